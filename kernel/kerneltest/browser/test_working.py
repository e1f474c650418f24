"""The working of a cell as JupyterLab typesets it."""

import pytest
from conftest import notebook

WORKING = """//cobber:working
import "math"
feed_grade, conc_grade := 12.4`%`, 62`%`
tail_grade := quantity.Must(quantity.Uniform(3.6`%`, 4.4`%`)) // one assay
// The part of the solids that goes to the concentrate
yield := (feed_grade - tail_grade) / (conc_grade - tail_grade)
left := 100.0
for pass := range 3 {
	left *= 0.7
	_ = pass
}
rho_s, d80 := 3300`kg/m3`, 1.6`mm`
ratio := math.Sqrt(d80/0.1`mm`) * math.Exp(-0.2`1/min`*4`min`)
if left > 30 {
	ratio = ratio / 2
}"""


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_working(open_notebook, dark):
    lab = open_notebook(notebook(WORKING), dark=dark)
    data = lab.run_all(1)[0]["outputs"][-1]["data"]
    assert set(data) == {"text/latex", "text/plain"}
    shown = lab.page.locator('.jp-OutputArea-output[data-mime-type="text/latex"]')
    lab.until("the formulas are typeset", lambda: shown.locator("mjx-container").count() == data["text/latex"].count("$$") / 2)
    lab.picture("working-dark" if dark else "working")
    assert shown.locator("mjx-merror, [data-mjx-error]").count() == 0
    assert "$$" not in shown.inner_text() and "\\" not in shown.inner_text()
