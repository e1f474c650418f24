"""Measures kernels as their users meet them, and prints a table in Markdown.

Every figure is a median, taken by the same client on the same machine in the
same run. The plots are not the same picture: each is a line of a hundred
points, drawn as the kernel's users draw one, and shown as it shows it by
itself.
"""

import statistics
import time

import ipykernel
import matplotlib
import psutil
from jupyter_client.manager import KernelManager

PATIENCE = 60
STARTS = 9


class Kernel:
    def __init__(self, name):
        self.manager = KernelManager(kernel_name=name)
        began = time.perf_counter()
        self.manager.start_kernel()
        self.client = self.manager.client()
        self.client.start_channels()
        # Not wait_for_ready, which then listens for 0.2 s whether all is quiet.
        self.client.kernel_info()
        self.client.get_shell_msg(timeout=PATIENCE)
        self.started = time.perf_counter() - began
        self.client.wait_for_ready(timeout=PATIENCE)

    def ask(self, send):
        """Seconds from a request until both its reply and its idle are there."""
        began = time.perf_counter()
        asked = send()
        while self.client.get_shell_msg(timeout=PATIENCE)["parent_header"].get("msg_id") != asked:
            pass
        media = set()
        while True:
            m = self.client.get_iopub_msg(timeout=PATIENCE)
            if m["parent_header"].get("msg_id") != asked:
                continue
            media |= set(m["content"].get("data", ()))
            if m["msg_type"] == "error":
                raise RuntimeError(m["content"]["evalue"])
            if m["content"].get("execution_state") == "idle":
                return time.perf_counter() - began, media

    def run(self, code):
        return self.ask(lambda: self.client.execute(code, allow_stdin=False))

    def memory(self):
        return psutil.Process(self.manager.provisioner.process.pid).memory_info().rss

    def stop(self):
        self.client.stop_channels()
        self.manager.shutdown_kernel()


KERNELS = {
    "cobber": {
        "complete": "quantity.N",
        "before": "x, y := make([]quantity.Quantity, 100), make([]quantity.Quantity, 100)\n"
        "for i := range x {\n\tx[i], y[i] = quantity.Of(float64(i), `s`), quantity.Of(float64(i*i), `m`)\n}",
        "plot": "f, err := plot.Draw(plot.Axes{}, plot.Line{X: x, Y: y})\nshow.Check(err)\nf",
        "cell": "v%d := %d\nv%d + 1",
    },
    "python3": {
        "complete": "statistics.me",
        "before": "import statistics\nimport matplotlib.pyplot as plt\n%matplotlib inline\nx = list(range(100))\ny = [i * i for i in x]",
        "plot": "plt.plot(x, y);",
        "cell": "v%d = %d\nv%d + 1",
    },
}


def in_turn(times, once):
    """The median for each kernel. They take turns, so that what else the machine does meets all alike."""
    taken = {name: [] for name in KERNELS}
    for i in range(times):
        for name in KERNELS:
            taken[name].append(once(name, i))
    return taken


def medians(taken, first=None, last=None, digits=1):
    return {name: f"{statistics.median(t[first:last]) * 1e3:.{digits}f} ms" for name, t in taken.items()}


def start_once(name, _):
    kernel = Kernel(name)
    kernel.stop()
    return kernel.started


def measure():
    """Rows of the table: what was measured, then the figure of each kernel by its name."""
    yield "start to first answer", medians(in_turn(STARTS, start_once), digits=0)
    kernels = {name: Kernel(name) for name in KERNELS}

    def memory():
        return {name: f"{kernel.memory() / 2**20:.0f} MB" for name, kernel in kernels.items()}

    yield "memory after start", memory()
    for name, kernel in kernels.items():
        kernel.run("1 + 1")
        kernel.run(KERNELS[name]["before"])
    yield "`1 + 1`", medians(in_turn(200, lambda name, _: kernels[name].run("1 + 1")[0]))
    yield "completion", medians(
        in_turn(100, lambda name, _: kernels[name].ask(lambda: kernels[name].client.complete(KERNELS[name]["complete"]))[0])
    )
    media = {}

    def plot(name, _):
        taken, media[name] = kernels[name].run(KERNELS[name]["plot"])
        return taken

    plots = medians(in_turn(20, plot), digits=0)
    yield "plot of a line", {name: f"{plots[name]} ({kinds(media[name])})" for name in KERNELS}
    yield "memory after 20 plots", memory()
    for kernel in kernels.values():
        kernel.stop()
    kernels = {name: Kernel(name) for name in KERNELS}
    cells = in_turn(1000, lambda name, i: kernels[name].run(KERNELS[name]["cell"] % (i, i, i))[0])
    yield "a cell, of the first 100 of a session", medians(cells, last=100)
    yield "a cell, after 900 others", medians(cells, first=900)
    yield "memory after 1,000 cells", memory()
    for kernel in kernels.values():
        kernel.stop()


def kinds(media):
    pictures = (m for m in media if m.startswith("image") or m == "application/pdf")
    return ", ".join(sorted(m.split("/")[1].split("+")[0].upper() for m in pictures))


def main():
    print(f"| | cobber | ipykernel {ipykernel.__version__}, matplotlib {matplotlib.__version__} |\n|---|---|---|")
    for row, figures in measure():
        print(f"| {row} | {figures['cobber']} | {figures['python3']} |")


if __name__ == "__main__":
    main()
