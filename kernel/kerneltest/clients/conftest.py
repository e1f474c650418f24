"""What the tests with clients of Jupyter have in common."""

import time

import pytest
from jupyter_client.manager import KernelManager, start_new_kernel

KERNEL = "cobber"
PATIENCE = 20  # seconds for what must come


class Cell:
    """All that the kernel sent for one request."""

    def __init__(self, reply, broadcasts):
        self.reply = reply
        self.broadcasts = broadcasts

    @property
    def content(self):
        return self.reply["content"]

    @property
    def order(self):
        """The broadcasts in short, such as ['busy', 'execute_input', 'idle']."""
        return [
            m["content"]["execution_state"] if m["msg_type"] == "status" else m["msg_type"]
            for m in self.broadcasts
        ]

    def of(self, msg_type):
        return [m["content"] for m in self.broadcasts if m["msg_type"] == msg_type]

    def text(self, stream="stdout"):
        return "".join(c["text"] for c in self.of("stream") if c["name"] == stream)

    @property
    def result(self):
        results = self.of("execute_result")
        return results[0]["data"]["text/plain"] if results else None


class Client:
    """A blocking client that keeps apart what belongs to each request."""

    def __init__(self, manager, client):
        self.manager = manager
        self.client = client
        self.broadcasts = {}
        self.replies = {}

    def send(self, code, **more):
        more.setdefault("allow_stdin", False)
        return self.client.execute(code, **more)

    def run(self, code, **more):
        return self.wait(self.send(code, **more))

    def wait(self, msg_id, needs_reply=True):
        end = time.monotonic() + PATIENCE
        while not self.is_done(msg_id, needs_reply):
            if time.monotonic() > end:
                raise TimeoutError(f"not done: {self.broadcasts.get(msg_id)}, {self.replies.get(msg_id)}")
            self.collect()
        return Cell(self.replies.get(msg_id), self.broadcasts[msg_id])

    def wait_for_text(self, msg_id, text):
        end = time.monotonic() + PATIENCE
        while text not in Cell(None, self.broadcasts.get(msg_id, [])).text():
            assert time.monotonic() < end, f"{text!r} did not come"
            self.collect()

    def is_done(self, msg_id, needs_reply):
        if needs_reply and msg_id not in self.replies:
            return False
        return "idle" in Cell(None, self.broadcasts.get(msg_id, [])).order

    def collect(self):
        """Take what has come; wait a moment if nothing has."""
        came = self.take(self.client.iopub_channel, self.broadcast)
        came += self.take(self.client.shell_channel, self.reply)
        came += self.take(self.client.control_channel, self.reply)
        if not came:
            self.client.iopub_channel.socket.poll(20)

    def take(self, channel, keep):
        came = 0
        while channel.socket.poll(0):
            m = channel.get_msg(timeout=0)
            keep(m["parent_header"].get("msg_id"), m)
            came += 1
        return came

    def broadcast(self, parent, m):
        self.broadcasts.setdefault(parent, []).append(m)

    def reply(self, parent, m):
        self.replies[parent] = m


@pytest.fixture(scope="module")
def shared():
    """One kernel for all tests of a file that leave it as it was."""
    manager, client = start_new_kernel(kernel_name=KERNEL)
    yield Client(manager, client)
    client.stop_channels()
    manager.shutdown_kernel()


@pytest.fixture
def kernel():
    """A kernel of the test's own."""
    manager, client = start_new_kernel(kernel_name=KERNEL)
    yield Client(manager, client)
    client.stop_channels()
    if manager.is_alive():
        manager.shutdown_kernel(now=True)


@pytest.fixture
def manager():
    """A kernel that is started, with no client yet."""
    manager = KernelManager(kernel_name=KERNEL)
    manager.start_kernel()
    yield manager
    if manager.is_alive():
        manager.shutdown_kernel(now=True)
