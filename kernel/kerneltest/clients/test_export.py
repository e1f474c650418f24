"""What nbconvert makes of a notebook, where neither Inkscape nor pandoc is installed."""

import re

import nbformat
import pytest
from nbclient import NotebookClient
from nbconvert import HTMLExporter, LatexExporter, ScriptExporter, SlidesExporter
from nbformat.v4 import new_code_cell, new_notebook

PLOT = """f, err := plot.Draw(
	plot.Axes{Title: "Invented data", X: plot.Axis{Name: "time"}, Y: plot.Axis{Name: "mass"}},
	plot.Line{X: []quantity.Quantity{1`h`, 2`h`, 3`h`}, Y: []quantity.Quantity{1`t`, 3`t`, 4`t`}})
show.Check(err)
f"""
TABLE = """streams, err := table.New(
	table.Texts("stream", []string{"concentrate", "tailing"}),
	table.Quantities("mass", []quantity.Quantity{1.25`t`, 3`t`}))
show.Check(err)
streams"""
FAILING = "feed + 3`kWh`"


@pytest.fixture(scope="module")
def made():
    """A notebook that has run: a quantity, a plot, a table, an error."""
    cells = [new_code_cell(text) for text in ("feed := 36.5`t/h`\nfeed * 8`h`", PLOT, TABLE, FAILING)]
    cells[3].metadata["tags"] = ["raises-exception"]
    notebook = new_notebook(cells=cells)
    notebook.metadata["kernelspec"] = {"name": "cobber", "display_name": "Cobber", "language": "go"}
    NotebookClient(notebook, timeout=60, kernel_name="cobber").execute()
    nbformat.validate(notebook)
    return notebook


@pytest.fixture
def nothing_else(monkeypatch):
    """No program is found, so that nothing can be converted by one."""
    monkeypatch.setenv("PATH", "")


def test_html(made, nothing_else):
    page, _ = HTMLExporter().from_notebook_node(made)
    assert "292 t" in page.replace("\u202f", " ").replace("\xa0", " ") or re.search(r"292\W+t\b", page)
    assert "data:image/svg+xml" in page or "<svg" in page
    assert "concentrate</td>" in page
    assert "cannot add" in page
    assert '<span class="o">:=</span>' in page, "the source is not coloured as Go"
    assert "\x1b" not in page


def test_slides(made, nothing_else):
    page, _ = SlidesExporter().from_notebook_node(made)
    assert "reveal" in page and "concentrate</td>" in page


def test_script(made):
    script, resources = ScriptExporter().from_notebook_node(made)
    assert "feed := 36.5`t/h`" in script
    assert resources["output_extension"] == ".go"


def test_latex_needs_no_inkscape(made, nothing_else):
    text, resources = LatexExporter().from_notebook_node(made)
    pictures = re.findall(r"\\adjustimage\{.*\}\{(.*?)\}$", text.split(r"\begin{document}")[1], re.MULTILINE)
    assert pictures and all(name.endswith(".pdf") for name in pictures), pictures
    for name in pictures:
        assert resources["outputs"][name].startswith(b"%PDF-")
    assert "tabular" in text and "concentrate" in text, "the table is not typeset"
    assert r"292\,\mathrm{t}" in text


def test_picture_has_its_size(made):
    output = made.cells[1].outputs[0]
    size = output.metadata["image/png"]
    assert (size["width"], size["height"]) == (595, 384)  # 6.2 by 4 inches of 96
