"""A cell asks its user, through the front end that ran it."""

import time

import pytest
from conftest import PATIENCE


class Asked:
    """A client that answers what it is asked."""

    def __init__(self, client):
        self.client = client

    def run(self, code, *answers):
        sent = self.client.send(code, allow_stdin=True)
        requests = []
        for answer in answers:
            requests.append(self.question(sent))
            self.client.client.input(answer)
        return self.client.wait(sent), [r["content"] for r in requests]

    def question(self, sent):
        message = self.client.client.get_stdin_msg(timeout=PATIENCE)
        assert message["msg_type"] == "input_request"
        assert message["parent_header"]["msg_id"] == sent
        return message


@pytest.fixture
def asked(shared):
    return Asked(shared)


def test_scan(asked):
    cell, requests = asked.run('import "fmt"\nvar feed float64\nfmt.Print("feed: ")\nfmt.Scan(&feed)\nfeed * 2', "36.5")
    assert cell.result == "73"
    assert cell.text() == "feed: "
    assert requests == [{"prompt": "", "password": False}]


def test_lines(asked):
    cell, _ = asked.run(
        'import ("bufio"; "os")\nlines := bufio.NewScanner(os.Stdin)\nfor lines.Scan() {\n\tfmt.Println("got", lines.Text())\n}',
        "one",
        "two",
        "\x04",  # what front ends send for the end of input
    )
    assert cell.text() == "got one\ngot two\n"


def test_ask_with_prompt(asked):
    cell, requests = asked.run('answer, _ := show.Ask("which sand? ")\nanswer', "black")
    assert cell.result == '"black"'
    assert requests == [{"prompt": "which sand? ", "password": False}]


def test_secret(asked):
    cell, requests = asked.run('secret, _ := show.AskSecret("key: ")\nlen(secret)', "12345")
    assert cell.result == "5"
    assert requests == [{"prompt": "key: ", "password": True}]
    assert "12345" not in str(cell.broadcasts)


def test_unicode(asked):
    cell, _ = asked.run('sieve, _ := show.Ask("")\nsieve', "355 µm")
    assert cell.result == '"355 µm"'


def test_not_allowed(shared):
    started = time.monotonic()
    cell = shared.run('import "fmt"\nvar nobody int\n_, err := fmt.Scan(&nobody)\nerr', allow_stdin=False)
    assert time.monotonic() - started < 5
    assert "takes no input" in cell.result
    assert "bind the value in the cell" in cell.result


def test_interrupt_while_asking(kernel):
    asked = Asked(kernel)
    kernel.run("kept := 3")
    sent = kernel.send('import "fmt"\nvar x int\nfmt.Scan(&x)\nkept = 4', allow_stdin=True)
    asked.question(sent)
    kernel.manager.interrupt_kernel()
    cell = kernel.wait(sent)
    assert cell.content["ename"] == "interrupted"
    assert kernel.run("kept").result == "3"
    # What comes too late answers nothing that is asked later.
    kernel.client.input("99")
    cell, _ = asked.run("var y int\nfmt.Scan(&y)\ny", "5")
    assert cell.result == "5"
