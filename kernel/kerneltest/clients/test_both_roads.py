"""Every notebook of the project shows the same through a client of Jupyter and through cobber run."""

import pathlib
import subprocess

import nbformat
import pytest
from jupyter_client.kernelspec import KernelSpecManager
from nbclient import NotebookClient

NOTEBOOKS = pathlib.Path(__file__).resolve().parents[3] / "notebooks"


VIEW = "application/vnd.jupyter.widget-view+json"


def shown(made, controls=()):
    """What each code cell shows, without what a run may differ in: controls only a front end has."""
    return [
        []
        if i in controls
        else [
            {k: v for k, v in output.items() if k in ("output_type", "name", "text", "data", "metadata")}
            for output in cell.outputs
        ]
        for i, cell in enumerate(code(made))
    ]


def code(made):
    return [cell for cell in made.cells if cell.cell_type == "code"]


def with_controls(made):
    return {i for i, cell in enumerate(code(made)) if any(VIEW in output.get("data", {}) for output in cell.outputs)}


@pytest.mark.parametrize("path", sorted(NOTEBOOKS.glob("*.ipynb")), ids=lambda p: p.stem)
def test_same_outputs(path, tmp_path):
    program = KernelSpecManager().get_kernel_spec("cobber").argv[0]
    written = tmp_path / "headless.ipynb"
    subprocess.run([program, "run", str(path), "-o", str(written)], check=True, timeout=120)
    headless = nbformat.read(written, as_version=4)
    nbformat.validate(headless)

    through = nbformat.read(path, as_version=4)
    NotebookClient(through, timeout=120, kernel_name="cobber", resources={"metadata": {"path": str(path.parent)}}).execute()
    nbformat.validate(through)

    controls = with_controls(through)
    assert shown(through, controls) == shown(headless, controls)
    assert all(headless_cell.outputs for i, headless_cell in enumerate(code(headless)) if i in controls)
    assert any(outputs for outputs in shown(headless)), "the notebook shows nothing"
