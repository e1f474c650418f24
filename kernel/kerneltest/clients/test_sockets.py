"""Sockets as bad clients use them, with the C library of ZeroMQ."""

import socket
import time

import zmq
from conftest import PATIENCE, Client
from jupyter_client.session import Session


def client_of(manager):
    client = manager.client()
    client.start_channels()
    client.wait_for_ready(timeout=PATIENCE)
    return Client(manager, client)


def endpoint(manager, channel):
    info = manager.get_connection_info()
    return f"tcp://{info['ip']}:{info[channel + '_port']}"


def test_silent_connections_keep_nobody_out(manager):
    time.sleep(0.3)
    info = manager.get_connection_info()
    silent = []
    for port in ("shell_port", "iopub_port", "control_port", "hb_port", "stdin_port"):
        end = time.monotonic() + PATIENCE
        while True:
            try:
                silent.append(socket.create_connection((info["ip"], info[port])))
                break
            except ConnectionRefusedError:
                assert time.monotonic() < end
                time.sleep(0.02)
    client = client_of(manager)
    assert client.run("1 + 1").result == "2"
    for connection in silent:
        connection.close()
    client.client.stop_channels()


def test_stalled_subscriber_stops_nobody(manager):
    client = client_of(manager)
    stalled = zmq.Context.instance().socket(zmq.SUB)
    stalled.setsockopt(zmq.RCVHWM, 1)
    stalled.setsockopt(zmq.RCVBUF, 4096)
    stalled.setsockopt(zmq.SUBSCRIBE, b"")
    stalled.connect(endpoint(manager, "iopub"))
    time.sleep(0.3)
    client.run('import ("fmt"; "strings")\ntext := strings.Repeat("0123456789", 50_000)')
    # A cell may print no more than half a million bytes; many cells may.
    for sent in [client.send("fmt.Println(text)") for _ in range(60)]:
        cell = client.wait(sent)
        assert cell.content["status"] == "ok"
        assert len(cell.text()) == 500_001
    assert client.run("1 + 1").result == "2"
    stalled.close(linger=0)
    client.client.stop_channels()


def test_peer_that_reads_no_replies_stops_nobody(manager):
    client = client_of(manager)
    deaf = zmq.Context.instance().socket(zmq.DEALER)
    deaf.setsockopt(zmq.RCVHWM, 1)
    deaf.connect(endpoint(manager, "shell"))
    session = Session(key=manager.session.key)
    for _ in range(2000):
        session.send(deaf, "kernel_info_request", {})
    assert client.run("1 + 1").result == "2"
    deaf.close(linger=0)
    client.client.stop_channels()


def test_many_short_lived_clients(manager):
    client = client_of(manager)
    session = Session(key=manager.session.key)
    for _ in range(100):
        brief = zmq.Context.instance().socket(zmq.DEALER)
        brief.connect(endpoint(manager, "control"))
        session.send(brief, "kernel_info_request", {})
        assert brief.poll(PATIENCE * 1000), "no reply"
        _, reply = session.feed_identities(brief.recv_multipart())
        assert session.deserialize(reply)["msg_type"] == "kernel_info_reply"
        brief.close(linger=0)
    assert client.run("1 + 1").result == "2"
    client.client.stop_channels()


def test_wrong_key_is_not_heard(manager):
    client = client_of(manager)
    stranger = zmq.Context.instance().socket(zmq.DEALER)
    stranger.connect(endpoint(manager, "shell"))
    session = Session(key=b"not the key")
    session.send(stranger, "execute_request", {"code": "stranger := 1", "silent": True})
    stranger.send_multipart([b"no message at all"])
    session.key = manager.session.key
    session.send(stranger, "kernel_info_request", {})
    assert stranger.poll(PATIENCE * 1000), "no reply"
    _, reply = session.feed_identities(stranger.recv_multipart())
    assert session.deserialize(reply)["msg_type"] == "kernel_info_reply"
    assert client.run("stranger").content["status"] == "error"
    stranger.close(linger=0)
    client.client.stop_channels()


def test_what_is_sent_again_is_not_heard(manager):
    """Who records a message can send it again without the key."""
    client = client_of(manager)
    assert client.run("count := 0").content["status"] == "ok"
    stranger = zmq.Context.instance().socket(zmq.DEALER)
    stranger.connect(endpoint(manager, "shell"))
    session = Session(key=manager.session.key)
    recorded = session.serialize(session.msg("execute_request", {"code": "count++", "silent": False, "store_history": True}))
    for _ in range(3):
        stranger.send_multipart(recorded)
    session.send(stranger, "kernel_info_request", {})
    replies = set()
    while "kernel_info_reply" not in replies or "execute_reply" not in replies:
        assert stranger.poll(PATIENCE * 1000), f"only {replies}"
        _, reply = session.feed_identities(stranger.recv_multipart())
        replies.add(session.deserialize(reply)["msg_type"])
    assert client.run("count").result == "1"
    stranger.close(linger=0)
    client.client.stop_channels()


def test_every_subscriber_is_welcomed(manager):
    session = Session(key=manager.session.key)
    for topic in (b"", b"", b"stream"):
        sub = zmq.Context.instance().socket(zmq.SUB)
        sub.setsockopt(zmq.SUBSCRIBE, topic)
        sub.connect(endpoint(manager, "iopub"))
        end = time.monotonic() + PATIENCE
        while True:
            assert sub.poll(max(end - time.monotonic(), 0) * 1000), "no welcome"
            frames = sub.recv_multipart()
            _, message = session.feed_identities(frames)
            message = session.deserialize(message)
            if message["msg_type"] == "iopub_welcome":
                break
        assert frames[0] == topic
        assert message["content"] == {"subscription": topic.decode()}
        assert message["parent_header"] == {}
        sub.close(linger=0)


def test_last_messages_arrive(manager):
    """What is published just before the end must reach who listens."""
    client = client_of(manager)
    client.run('import ("fmt"; "strings")\ntext := strings.Repeat("x", 500_000)')
    sent = [client.send("fmt.Println(text)") for _ in range(10)]
    # The replies are waited for, the broadcasts left where they are: what the
    # kernel has sent then is on its way, or in a queue, when it is told to end.
    end = time.monotonic() + PATIENCE
    while not all(s in client.replies for s in sent):
        assert time.monotonic() < end, "a cell was not answered"
        if not client.take(client.client.shell_channel, client.reply):
            client.client.shell_channel.socket.poll(20)
    asked = client.client.shutdown()
    assert [len(client.wait(s).text()) for s in sent] == [500_001] * 10
    done = client.wait(asked)
    assert done.order == ["busy", "shutdown_reply", "idle"]
    client.client.stop_channels()


