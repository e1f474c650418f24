"""What a person does in JupyterLab, done by a browser."""

import time

import pytest
from conftest import notebook

FEED = "feed := 36.5`t/h`\nfeed * 8`h`"
PLOT = """f, err := plot.Draw(
	plot.Axes{Title: "Invented data", X: plot.Axis{Name: "time"}, Y: plot.Axis{Name: "mass"}},
	plot.Line{Name: "first", X: []quantity.Quantity{1`h`, 2`h`, 3`h`}, Y: []quantity.Quantity{1`t`, 3`t`, 4`t`}, Marked: true},
	plot.Line{Name: "second", X: []quantity.Quantity{1`h`, 2`h`, 3`h`}, Y: []quantity.Quantity{2`t`, 2.5`t`, 2`t`}, Marked: true})
show.Check(err)
f"""
TABLE = """streams, err := table.New(
	table.Texts("stream", []string{"concentrate", "tailing"}),
	table.Quantities("mass", []quantity.Quantity{1.25`t`, 3`t`}))
show.Check(err)
streams"""
LOOP = 'import "fmt"\nfmt.Println("looping")\nfor {\n}'


def data_of(cell):
    return cell["outputs"][-1]["data"]


def test_run_all(open_notebook):
    lab = open_notebook(notebook(FEED, PLOT, TABLE, 'import "fmt"\nfmt.Println("printed")', "feed + 3`kWh`"))
    cells = lab.run_all(5)
    assert data_of(cells[0])["text/plain"] == "292 t"
    assert {"image/svg+xml", "image/png", "text/plain"} <= set(data_of(cells[1]))
    assert "concentrate" in data_of(cells[2])["text/html"]
    assert cells[3]["outputs"][0]["text"] == "printed\n"
    assert cells[4]["outputs"][0]["output_type"] == "error"
    assert [c["execution_count"] for c in cells] == [1, 2, 3, 4, 5]
    picture = lab.page.locator('.jp-OutputArea-output[data-mime-type="image/svg+xml"] img')
    assert picture.evaluate("i => i.naturalWidth > 300 && i.complete")
    assert lab.page.locator(".jp-OutputArea-output table").is_visible()


DEEP = """func deep(n int) int {
	if n == 0 {
		panic("no feed")
	}
	return deep(n-1) + 1
}
deep(3)"""


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_all_can_be_read(open_notebook, dark):
    lab = open_notebook(notebook(FEED, PLOT, TABLE, DEEP), dark=dark)
    lab.run_all(4)
    lab.picture("dark" if dark else "light")
    # What is written must stand out from its ground: 4.5 to 1 is what the
    # Web Content Accessibility Guidelines 2.1 ask, criterion 1.4.3.
    for part in (".jp-OutputArea-output table td", ".jp-OutputArea-output table th", ".jp-OutputArea-output pre"):
        for ratio, text in contrasts(lab.page, part):
            assert ratio >= 4.5, f"{text!r} in {part} has a contrast of {ratio:.1f}"


def contrasts(page, selector):
    return page.evaluate(
        """selector => {
        const canvas = document.createElement('canvas').getContext('2d', {willReadFrequently: true});
        const rgba = colour => {
            canvas.clearRect(0, 0, 1, 1); canvas.fillStyle = colour; canvas.fillRect(0, 0, 1, 1);
            return Array.from(canvas.getImageData(0, 0, 1, 1).data);
        };
        const ground = element => {
            for (let e = element; e; e = e.parentElement) {
                const c = rgba(getComputedStyle(e).backgroundColor);
                if (c[3] > 200) return c;
            }
            return [255, 255, 255, 255];
        };
        const light = c => {
            const [r, g, b] = c.slice(0, 3).map(v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
            return 0.2126 * r + 0.7152 * g + 0.0722 * b;
        };
        return Array.from(document.querySelectorAll(selector)).flatMap(e => [e, ...e.querySelectorAll('*')])
            .filter(e => e.textContent.trim() && e.offsetParent)
            .map(e => {
                const [a, b] = [light(rgba(getComputedStyle(e).color)), light(ground(e))];
                return [(Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05), e.textContent];
            });
    }""",
        selector,
    )


def test_completion(open_notebook):
    lab = open_notebook(notebook("plot.Dr"))
    lab.editor(0).click()
    lab.page.keyboard.press("Control+End")
    lab.page.keyboard.press("Tab")
    listed = lab.page.locator(".jp-Completer .jp-Completer-item")
    listed.first.wait_for()
    lab.page.keyboard.press("Enter")
    lab.until("the name is completed", lambda: lab.cells()[0]["source"] == "plot.Draw")
    lab.page.keyboard.press("Control+A")
    lab.page.keyboard.type("quantity.N")
    lab.page.keyboard.press("Tab")
    listed.first.wait_for()
    lab.picture("completion")
    names = listed.locator(".jp-Completer-match").all_inner_texts()
    assert {"New", "Number"} <= set(names), names


def test_tooltip(open_notebook):
    lab = open_notebook(notebook("plot.Draw"))
    lab.editor(0).click()
    lab.page.keyboard.press("Control+End")
    lab.page.keyboard.press("Shift+Tab")
    tooltip = lab.page.locator(".jp-Tooltip")
    tooltip.wait_for()
    lab.until("the tooltip explains", lambda: "func" in tooltip.inner_text() and "marks" in tooltip.inner_text())
    lab.picture("tooltip")


def test_interrupt_button(open_notebook):
    lab = open_notebook(notebook("kept := 7", LOOP, "kept"))
    lab.command("notebook:run-all-cells")
    lab.until("the cell loops", lambda: any("looping" in o.get("text", "") for o in lab.cells()[1]["outputs"]))
    started = time.monotonic()
    lab.page.locator('jp-button[data-command="notebook:interrupt-kernel"], [data-jp-item-name="interrupt"] jp-button').first.click()
    lab.until_idle()
    assert time.monotonic() - started < 10
    cells = lab.cells()
    assert cells[1]["outputs"][-1]["ename"] == "interrupted"
    assert cells[2]["outputs"] == [] and cells[2]["execution_count"] is None
    lab.editor(2).click()
    lab.page.keyboard.press("Shift+Enter")
    lab.until("the session is whole", lambda: lab.cells()[2]["outputs"])
    assert data_of(lab.cells()[2])["text/plain"] == "7"


def test_restart_and_run_all(open_notebook):
    lab = open_notebook(notebook("n := 1", "n += 1\nn"))
    lab.run_all(2)
    lab.editor(1).click()
    lab.page.keyboard.press("Control+Enter")
    lab.until("the cell has run again", lambda: lab.cells()[1]["outputs"] and data_of(lab.cells()[1])["text/plain"] == "3")
    lab.command("notebook:restart-run-all")
    lab.page.locator(".jp-Dialog .jp-mod-accept").click()
    lab.until("all has run anew", lambda: [c["execution_count"] for c in lab.cells()] == [1, 2] and lab.cells()[1]["outputs"])
    lab.until_idle()
    assert data_of(lab.cells()[1])["text/plain"] == "2"


def test_untrusted_notebook_shows_what_it_kept(open_notebook):
    """A notebook from elsewhere: JupyterLab shows neither SVG nor styles of it."""
    made = open_notebook(notebook(PLOT, TABLE)).run_all(2)
    lab = open_notebook(notebook(PLOT, TABLE, outputs=[c["outputs"] for c in made]), kernel=False)
    assert not lab.page.evaluate("() => window.jupyterapp.shell.currentWidget.content.model.cells.get(0).trusted")
    picture = lab.page.locator('.jp-OutputArea-output[data-mime-type="image/png"] img')
    picture.wait_for()
    assert picture.evaluate("i => i.naturalWidth > 300 && i.complete")
    assert lab.page.locator('.jp-OutputArea-output[data-mime-type="image/svg+xml"]').count() == 0
    rows = lab.page.locator(".jp-OutputArea-output table tr").all_inner_texts()
    assert any("concentrate" in row and "1.25" in row for row in rows), rows
    lab.picture("untrusted")
