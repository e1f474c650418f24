"""Every notebook of the project shows the same through a client of Jupyter and through cobber run."""

import pathlib
import subprocess

import nbformat
import pytest
from jupyter_client.kernelspec import KernelSpecManager
from nbclient import NotebookClient

NOTEBOOKS = pathlib.Path(__file__).resolve().parents[3] / "notebooks"


def shown(made):
    """What each code cell shows, without what a run may differ in."""
    return [
        [
            {k: v for k, v in output.items() if k in ("output_type", "name", "text", "data", "metadata")}
            for output in cell.outputs
        ]
        for cell in made.cells
        if cell.cell_type == "code"
    ]


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

    assert shown(through) == shown(headless)
    assert any(outputs for outputs in shown(headless)), "the notebook shows nothing"
