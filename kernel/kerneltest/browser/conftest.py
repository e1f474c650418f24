"""JupyterLab as people have it: started by cobber lab, in a real browser."""

import json
import os
import pathlib
import re
import signal
import subprocess
import time

import pytest
from playwright.sync_api import sync_playwright

PATIENCE = 60  # seconds for what must come; a loaded machine is slow to start a browser
PROGRAM = os.environ["COBBER_PROGRAM"]
PICTURES = os.environ.get("COBBER_PICTURES")  # a folder for screenshots, for people to look at

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


def notebook(*cells, outputs=()):
    """A notebook of code cells; outputs[i] are those that cell i has kept."""
    kept = dict(enumerate(outputs))
    return {
        "nbformat": 4,
        "nbformat_minor": 5,
        "metadata": {"kernelspec": {"name": "cobber", "display_name": "Cobber", "language": "go"}},
        "cells": [
            {
                "cell_type": "code",
                "id": f"cell-{i}",
                "metadata": {},
                "source": text,
                "execution_count": None,
                "outputs": kept.get(i, []),
            }
            for i, text in enumerate(cells)
        ],
    }


@pytest.fixture(scope="session")
def lab(tmp_path_factory):
    """A running JupyterLab: its folder and the address of its page."""
    folder = tmp_path_factory.mktemp("lab")
    home = tmp_path_factory.mktemp("home")
    log = open(home / "log", "w+")
    environment = dict(os.environ, JUPYTER_CONFIG_DIR=str(home / "config"), JUPYTER_RUNTIME_DIR=str(home / "runtime"))
    environment.update(JUPYTER_DATA_DIR=str(home / "data"), JUPYTERLAB_SETTINGS_DIR=str(home / "settings"))
    environment.update(JUPYTERLAB_WORKSPACES_DIR=str(home / "workspaces"), IPYTHONDIR=str(home / "ipython"))
    command = [PROGRAM, "lab", "-private", "--", "--no-browser", "--expose-app-in-browser", "--ServerApp.port=0"]
    command += ["--allow-root", "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate", "--LabApp.news_url="]
    process = subprocess.Popen(command, cwd=folder, env=environment, stdout=log, stderr=log, stdin=subprocess.DEVNULL)
    try:
        yield folder, address(process, home / "log")
    finally:
        process.send_signal(signal.SIGTERM)
        process.wait(PATIENCE)
        log.close()


def address(process, log):
    end = time.monotonic() + 600  # the first time, JupyterLab is installed
    while time.monotonic() < end:
        text = log.read_text()
        found = re.search(r"http://(?:localhost|127\.0\.0\.1):(\d+)/lab\?token=(\w+)", text)
        if found:
            return "http://127.0.0.1:%s/lab%%s?token=%s&reset" % found.groups()
        assert process.poll() is None, text
        time.sleep(0.1)
    raise TimeoutError(log.read_text())


@pytest.fixture(scope="session")
def browser():
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=os.environ["COBBER_BROWSER"], args=FLAGS)
        yield browser
        browser.close()


class Lab:
    """One page of JupyterLab with a notebook open."""

    def __init__(self, page, folder):
        self.page = page
        self.folder = folder

    def command(self, name, **arguments):
        self.page.evaluate("([name, a]) => { window.jupyterapp.commands.execute(name, a) }", [name, arguments])

    def cells(self):
        """The code cells of the notebook's model."""
        model = self.page.evaluate("() => window.jupyterapp.shell.currentWidget.content.model.toJSON()")
        return [cell for cell in model["cells"] if cell["cell_type"] == "code"]

    def status(self):
        return self.page.evaluate(
            "() => window.jupyterapp.shell.currentWidget.sessionContext.session?.kernel?.status ?? 'none'"
        )

    def until(self, what, condition, patience=PATIENCE):
        end = time.monotonic() + patience
        while True:
            found = condition()
            if found:
                return found
            assert time.monotonic() < end, f"{what}: in vain; kernel {self.status()}, {json.dumps(self.cells())[:4000]}"
            self.page.wait_for_timeout(50)

    def until_idle(self):
        self.until("the kernel is idle", lambda: self.status() == "idle")

    def until_run(self, count):
        """Wait until so many cells have a number, and the kernel is idle."""
        self.until(
            f"{count} cells have run",
            lambda: sum(c["execution_count"] is not None for c in self.cells()) >= count and self.status() == "idle",
        )
        self.page.wait_for_timeout(200)  # what came last is drawn
        return self.cells()

    def run_all(self, count):
        self.command("notebook:run-all-cells")
        return self.until_run(count)

    def editor(self, index):
        return self.page.locator(".jp-Notebook .jp-CodeCell .cm-content").nth(index)

    def picture(self, name):
        if PICTURES:
            self.page.screenshot(path=str(pathlib.Path(PICTURES) / f"{name}.png"), full_page=True)


@pytest.fixture
def open_notebook(lab, browser, request):
    """A function that opens a notebook in a page of its own."""
    folder, address = lab
    contexts = []

    def open_one(content, kernel=True, dark=False):
        name = re.sub(r"\W+", "-", request.node.name) + f"-{len(contexts)}.ipynb"
        (folder / name).write_text(json.dumps(content))
        context = browser.new_context(viewport={"width": 1100, "height": 1400})
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(PATIENCE * 1000)
        page.goto(address % f"/tree/{name}")
        page.wait_for_selector(".jp-Notebook .jp-CodeCell .cm-content")
        opened = Lab(page, folder)
        if kernel:
            opened.until_idle()
        # The server keeps the theme of the page before.
        opened.command("apputils:change-theme", theme="JupyterLab Dark" if dark else "JupyterLab Light")
        light = "false" if dark else "true"
        page.wait_for_selector(f'body[data-jp-theme-light="{light}"]', state="attached")
        page.wait_for_timeout(300)  # the sheet of the theme is loaded
        return opened

    yield open_one
    for context in contexts:
        for page in context.pages:
            page.evaluate("() => window.jupyterapp?.serviceManager.sessions.shutdownAll()")
        context.close()
