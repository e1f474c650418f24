"""The notebooks of the project, run in JupyterLab and held to the outputs they were saved with."""

import json
import pathlib
import shutil

import pytest

NOTEBOOKS = sorted((pathlib.Path(__file__).parents[3] / "notebooks").glob("*.ipynb"))


def without_outputs(content):
    for cell in content["cells"]:
        if cell["cell_type"] == "code":
            cell["outputs"], cell["execution_count"] = [], None
    return content


def texts(cell):
    """What a cell shows, in words: one entry an output."""
    shown = []
    for output in cell["outputs"]:
        if output["output_type"] == "error":
            shown.append(output["ename"])
        else:
            text = output.get("text", output.get("data", {}).get("text/plain", ""))
            shown.append("".join(text))
    return shown


def has_controls(cell):
    return any("application/vnd.jupyter.widget-view+json" in o.get("data", {}) for o in cell["outputs"])


def test_there_are_notebooks():
    assert len(NOTEBOOKS) > 9


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda p: p.stem)
def test_as_saved(open_notebook, lab, path):
    saved = json.loads(path.read_text())
    want = [c for c in saved["cells"] if c["cell_type"] == "code"]
    shutil.copytree(path.parent / "data", lab[0] / "data", dirs_exist_ok=True)
    page = open_notebook(without_outputs(json.loads(path.read_text())))
    got = page.run_all(len(want))
    page.picture(path.stem)
    for number, (have, expected) in enumerate(zip(got, want, strict=True), 1):
        # Controls show themselves in JupyterLab and their settings elsewhere: test_lab.py looks at them.
        if "varies" not in expected["metadata"].get("tags", []) and not has_controls(have):
            assert texts(have) == texts(expected), f"cell {number}:\n{expected['source']}"
