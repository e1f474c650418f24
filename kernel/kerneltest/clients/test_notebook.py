"""Notebooks run and exported by the tools people use for that."""

import nbformat
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError
from nbconvert import HTMLExporter, ScriptExporter
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook

import pytest


def notebook(*cells):
    made = new_notebook(cells=[new_markdown_cell("# A test")] + [new_code_cell(c) for c in cells])
    made.metadata["kernelspec"] = {"name": "cobber", "display_name": "Cobber", "language": "go"}
    return made


def run(made):
    NotebookClient(made, timeout=60, kernel_name="cobber").execute()
    nbformat.validate(made)
    return [c for c in made.cells if c.cell_type == "code"]


def test_run():
    made = notebook('import "fmt"\ntotal := 40', 'fmt.Println("adding")\ntotal + 2', "show.Value(total)")
    cells = run(made)
    assert [c.execution_count for c in cells] == [1, 2, 3]
    assert cells[1].outputs[0] == {"output_type": "stream", "name": "stdout", "text": "adding\n"}
    assert cells[1].outputs[1].data["text/plain"] == "42"
    assert cells[2].outputs[0].output_type == "display_data"
    assert made.metadata.language_info["name"] == "go"


def test_failing_cell_stops_the_run():
    made = notebook('panic("no feed")', "1")
    with pytest.raises(CellExecutionError, match="no feed"):
        run(made)
    assert made.cells[2].outputs == []


def test_cell_that_is_meant_to_fail():
    made = notebook('panic("no feed")', "1 + 1")
    made.cells[1].metadata["tags"] = ["raises-exception"]
    cells = run(made)
    assert cells[0].outputs[0].output_type == "error"
    assert cells[1].outputs[0].data["text/plain"] == "2"


def test_export():
    made = notebook("40 + 2")
    run(made)
    page, _ = HTMLExporter().from_notebook_node(made)
    assert "42" in page
    script, resources = ScriptExporter().from_notebook_node(made)
    assert "40 + 2" in script
    assert resources["output_extension"] == ".go"
