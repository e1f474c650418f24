"""A person at a terminal, with Jupyter's own console."""

import sys

import pytest

if sys.platform == "win32":
    pytest.skip("Windows has no pseudo-terminals of this kind", allow_module_level=True)

import pexpect
from conftest import PATIENCE


@pytest.fixture
def console():
    command = ["-m", "jupyter_console", "--kernel", "cobber", "--simple-prompt", "--ZMQTerminalInteractiveShell.banner="]
    terminal = pexpect.spawn(sys.executable, command, encoding="utf-8", timeout=PATIENCE, dimensions=(50, 120))
    terminal.setecho(False)
    terminal.delaybeforesend = 0.5  # what is typed before the console listens is lost
    terminal.expect(r"In \[1\]: ")
    yield terminal
    terminal.close(force=True)


def test_session(console):
    console.sendline("feed := 36.5`t/h`; feed * 8`h`")
    console.expect(r"Out\[1\]: 292 t")
    console.expect(r"In \[2\]: ")
    console.sendline("feed + 3`kWh`")
    console.expect("cell 2, line 1, column 6: cannot add")
    console.expect(r"In \[3\]: ")
    console.sendline("1 / 4.0")
    console.expect(r"Out\[3\]: 0.25")
    console.expect(r"In \[4\]: ")
    console.sendeof()
    console.expect("really want to exit")
    console.sendline("y")
    console.expect(pexpect.EOF)


def test_asked_at_the_terminal(console):
    console.sendline('answer, _ := show.Ask("which sand? "); answer')
    console.expect(r"which sand\? ")
    console.sendline("black")
    console.expect(r'Out\[1\]: "black"')


def test_interrupted_at_the_terminal(console):
    console.sendline('import "fmt"; kept := 7; fmt.Println("looping"); for { }')
    console.expect("looping\r\n")
    console.sendintr()
    console.expect("stopped|interrupted")
    console.expect(r"In \[2\]: ")
    console.sendline("kept")
    console.expect(r"Out\[2\]: 7")
