"""What Jupyter's own tests for kernels leave out."""

import os
import re
import signal
import sys
import time
from datetime import datetime

import pytest
from conftest import KERNEL, PATIENCE, Cell, Client
from jupyter_client.blocking.client import BlockingKernelClient
from jupyter_client.manager import KernelManager, start_new_kernel


def test_order(shared):
    cell = shared.run('import "fmt"\nfmt.Println("a")\n40 + 2')
    assert cell.order == ["busy", "execute_input", "stream", "execute_result", "idle"]
    assert cell.result == "42"
    assert cell.content["status"] == "ok"


def test_error_order(shared):
    cell = shared.run('import "fmt"\nfmt.Println("a")\npanic("no feed")')
    assert cell.order == ["busy", "execute_input", "stream", "error", "idle"]
    error = cell.of("error")[0]
    for part in ("ename", "evalue", "traceback"):
        assert error[part] == cell.content[part]
    assert "no feed" in error["evalue"]
    assert "line 3" in "\n".join(error["traceback"])


def test_cell_that_does_not_check(shared):
    cell = shared.run("1 +* 2")
    assert cell.order == ["busy", "execute_input", "error", "idle"]
    assert "line 1" in "\n".join(cell.content["traceback"])


def test_count(shared):
    before = shared.run("1").content["execution_count"]
    after = shared.run("1")
    assert after.content["execution_count"] == before + 1
    assert after.of("execute_input")[0]["execution_count"] == before + 1
    assert after.of("execute_result")[0]["execution_count"] == before + 1


def test_first_cell_is_number_one(kernel):
    assert kernel.run("1").content["execution_count"] == 1


def test_silent(shared):
    before = shared.run("1").content["execution_count"]
    cell = shared.run('import "fmt"\nfmt.Println("a")\n1', silent=True)
    assert cell.order == ["busy", "idle"]
    assert cell.content["status"] == "ok"
    assert cell.content["execution_count"] == before
    assert shared.run("1").content["execution_count"] == before + 1


def test_without_history(shared):
    before = shared.run("1").content["execution_count"]
    cell = shared.run("5", store_history=False)
    assert cell.order == ["busy", "execute_input", "execute_result", "idle"]
    assert shared.run("1").content["execution_count"] == before + 1


def test_names_stay(shared):
    shared.run("stays := 3")
    assert shared.run("stays * 2").result == "6"


def test_user_expressions(shared):
    cell = shared.run("forExpression := 20", user_expressions={"good": "forExpression + 1", "bad": "nowhere"})
    answers = cell.content["user_expressions"]
    assert answers["good"]["status"] == "ok"
    assert answers["good"]["data"]["text/plain"] == "21"
    assert answers["bad"]["status"] == "error"
    assert "nowhere" in answers["bad"]["evalue"]
    assert cell.content["status"] == "ok"


def test_error_aborts_what_waits(shared):
    first = shared.send('import "time"\ntime.Sleep(300 * time.Millisecond)\npanic("stop")')
    second = shared.send("aborted := 1")
    third = shared.send("aborted + 1")
    asked = shared.client.inspect("aborted")
    assert shared.wait(first).content["status"] == "error"
    for waiting in (second, third):
        cell = shared.wait(waiting)
        assert cell.content["status"] == "aborted"
        assert cell.order == ["busy", "idle"]
    assert shared.wait(asked).content["status"] == "ok"
    assert shared.run("1").content["status"] == "ok"


def test_error_may_stop_nothing(shared):
    first = shared.send('import "time"\ntime.Sleep(300 * time.Millisecond)\npanic("go on")', stop_on_error=False)
    second = shared.send("40 + 2")
    assert shared.wait(first).content["status"] == "error"
    assert shared.wait(second).result == "42"


def test_interrupt_keeps_the_session(kernel):
    kernel.run("kept := 7")
    running = kernel.send('import "fmt"\nfmt.Println("looping")\nfor {\n}')
    waiting = kernel.send("kept")
    kernel.wait_for_text(running, "looping")
    started = time.monotonic()
    kernel.manager.interrupt_kernel()
    cell = kernel.wait(running)
    assert time.monotonic() - started < PATIENCE
    assert cell.content["status"] == "error"
    assert cell.content["ename"] == "interrupted"
    assert kernel.wait(waiting).content["status"] == "aborted"
    assert kernel.run("kept").result == "7"


def test_interrupt_while_nothing_runs(kernel):
    kernel.manager.interrupt_kernel()
    # The request goes its own way: unless it is waited for, it may meet the cell.
    end = time.monotonic() + PATIENCE
    while not any(
        "idle" in Cell(None, m).order and m[0]["parent_header"].get("msg_type") == "interrupt_request"
        for m in kernel.broadcasts.values()
    ):
        assert time.monotonic() < end, "the interrupt was not answered"
        kernel.collect()
    assert kernel.run("1 + 1").result == "2"


def test_answers_while_a_cell_runs(kernel):
    running = kernel.send('import "fmt"\nfmt.Println("looping")\nfor {\n}')
    kernel.wait_for_text(running, "looping")
    for asked in (
        kernel.client.kernel_info(),
        kernel.client.complete("le"),
        kernel.client.is_complete("for {"),
        kernel.client.history(hist_access_type="tail", n=1),
    ):
        assert kernel.wait(asked).content["status"] in ("ok", "incomplete")
    for msg_type in ("comm_open", "comm_msg"):
        message = kernel.client.session.msg(msg_type, {"comm_id": "c", "target_name": "none", "data": {}})
        kernel.client.shell_channel.send(message)
        assert kernel.wait(message["header"]["msg_id"], needs_reply=False).order[-1] == "idle"
    kernel.manager.interrupt_kernel()
    kernel.wait(running)


def test_restart_keeps_the_ports(kernel):
    kernel.run("gone := 1")
    ports = kernel.manager.get_connection_info()
    kernel.manager.restart_kernel()
    kernel.client.wait_for_ready(timeout=PATIENCE)
    after = kernel.manager.get_connection_info()
    assert {k: v for k, v in after.items() if k.endswith("_port")} == {
        k: v for k, v in ports.items() if k.endswith("_port")
    }
    cell = kernel.run("gone")
    assert cell.content["status"] == "error"
    assert kernel.run("1 + 1").content["execution_count"] == 2


def test_restart_while_a_cell_runs(kernel):
    running = kernel.send('import "fmt"\nfmt.Println("looping")\nfor {\n}')
    kernel.wait_for_text(running, "looping")
    kernel.manager.restart_kernel()
    kernel.client.wait_for_ready(timeout=PATIENCE)
    assert kernel.run("1 + 1").result == "2"


def test_shutdown(kernel):
    asked = kernel.client.shutdown()
    assert kernel.wait(asked).content == {"status": "ok", "restart": False}
    assert Cell(None, kernel.broadcasts[asked]).of("shutdown_reply") == [{"status": "ok", "restart": False}]
    end = time.monotonic() + PATIENCE
    while kernel.manager.is_alive():
        assert time.monotonic() < end, "the process did not end"
        time.sleep(0.01)
    assert kernel.manager.provisioner.process.returncode == 0


def test_unknown_comm_is_closed(shared):
    message = shared.client.session.msg(
        "comm_open", {"comm_id": "c", "target_name": "jupyter.widget", "data": {}}
    )
    shared.client.shell_channel.send(message)
    cell = shared.wait(message["header"]["msg_id"], needs_reply=False)
    assert cell.order == ["busy", "comm_close", "idle"]
    assert cell.of("comm_close")[0]["comm_id"] == "c"


def test_unknown_request_gets_busy_and_idle(shared):
    message = shared.client.session.msg("what_request", {})
    shared.client.shell_channel.send(message)
    assert shared.wait(message["header"]["msg_id"], needs_reply=False).order == ["busy", "idle"]


def test_heartbeat(shared):
    assert shared.client.hb_channel.is_alive()
    shared.client.hb_channel.unpause()
    time.sleep(1.5)  # longer than a round of the client's own heartbeat
    assert shared.client.hb_channel.is_beating()


def test_dates_are_dates(shared):
    cell = shared.run("1")
    for message in cell.broadcasts + [cell.reply]:
        assert isinstance(message["header"]["date"], datetime), message["header"]
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}Z", cell.reply["metadata"]["started"]) or isinstance(
        cell.reply["metadata"]["started"], datetime
    )


def test_complete_counts_characters(shared):
    code = 'µ := "°"; import "fmt"\nfmt.Printl'
    asked = shared.client.complete(code, cursor_pos=len(code))
    content = shared.wait(asked).content
    assert content["cursor_end"] == len(code)
    assert "_jupyter_types_experimental" in content["metadata"]


def test_much_output(kernel):
    lines = 20_000
    cell = kernel.run('import "fmt"\nfor i := range %d {\n\tfmt.Println("line", i)\n}' % lines)
    assert cell.content["status"] == "ok"
    assert cell.text() == "".join(f"line {i}\n" for i in range(lines))
    assert cell.order[-1] == "idle"


def test_endless_output_is_cut_and_said(kernel):
    cell = kernel.run('import ("fmt"; "strings")\nfmt.Println(strings.Repeat("x", 5_000_000) + "end")')
    assert cell.content["status"] == "ok"
    assert len(cell.text()) < 1_000_000
    assert "left out" in cell.text() + cell.text("stderr")
    assert cell.text().rstrip().endswith("end")


def test_second_client_hears_all(shared):
    other = BlockingKernelClient()
    other.load_connection_info(shared.manager.get_connection_info())
    other.start_channels()
    try:
        other.wait_for_ready(timeout=PATIENCE)
        listening = Client(shared.manager, other)
        sent = shared.send("40 + 2")
        shared.wait(sent)
        assert listening.wait(sent, needs_reply=False).result == "42"
    finally:
        other.stop_channels()


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no sockets in the file system")
def test_sockets_in_the_file_system(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)  # paths of such sockets must be short
    manager = KernelManager(kernel_name="cobber", transport="ipc", ip="k")
    manager.start_kernel()
    client = manager.client()
    client.start_channels()
    try:
        client.wait_for_ready(timeout=PATIENCE)
        assert Client(manager, client).run("1 + 1").result == "2"
    finally:
        client.stop_channels()
        manager.shutdown_kernel()


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such signals")
def test_polite_kill_ends_in_order(kernel):
    kernel.manager.signal_kernel(signal.SIGTERM)
    end = time.monotonic() + PATIENCE
    while kernel.manager.is_alive():
        assert time.monotonic() < end, "the process did not end"
        time.sleep(0.01)


@pytest.mark.skipif(sys.platform == "win32", reason="needs fork")
def test_kernel_ends_with_its_parent(tmp_path):
    """A launcher that is killed must not leave a kernel behind."""
    import subprocess

    launcher = tmp_path / "launcher.py"
    launcher.write_text(
        "import sys, time\n"
        "from jupyter_client.manager import start_new_kernel\n"
        "manager, client = start_new_kernel(kernel_name='cobber')\n"
        "print(manager.provisioner.process.pid, flush=True)\n"
        "time.sleep(600)\n"
    )
    process = subprocess.Popen([sys.executable, str(launcher)], stdout=subprocess.PIPE, text=True)
    pid = int(process.stdout.readline())
    os.kill(pid, 0)
    process.kill()
    process.wait()
    end = time.monotonic() + PATIENCE
    while True:
        try:
            os.kill(pid, 0)
        except ProcessLookupError:
            break
        with open(f"/proc/{pid}/stat") if os.path.exists(f"/proc/{pid}/stat") else open(os.devnull) as stat:
            if ") Z " in stat.read():
                break  # ended, and not yet collected by whoever inherited it
        assert time.monotonic() < end, "the kernel outlived its parent"
        time.sleep(0.05)


def test_history_of_an_earlier_kernel(tmp_path):
    environment = dict(os.environ, COBBER_HISTORY=str(tmp_path / "history.jsonl"))
    for code in ("early := 1", "late := 2"):
        manager, client = start_new_kernel(kernel_name=KERNEL, env=environment)
        kernel = Client(manager, client)
        assert kernel.run(code).content["status"] == "ok"
        told = kernel.wait(client.history(hist_access_type="tail", n=10)).content["history"]
        before = kernel.wait(client.history(hist_access_type="range", session=-1, start=0)).content["history"]
        client.stop_channels()
        manager.shutdown_kernel()
    assert told == [[1, 1, "early := 1"], [2, 1, "late := 2"]]
    assert before == [[1, 1, "early := 1"]]
