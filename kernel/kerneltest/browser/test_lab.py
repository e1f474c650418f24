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


SLIDERS = """speed, err := control.Slide("drum speed", 20`rpm`, 120`rpm`, 60`rpm`)
show.Check(err)
field, err := control.Decades("field", 1`mT`, 1`T`, 100`mT`)
show.Check(err)
gas, err := control.Choose("gas", "air", "argon")
show.Check(err)
wet, err := control.Turn("wet", false)
show.Check(err)
control.Show(func() any {
	f, err := plot.Draw(
		plot.Axes{Title: "Invented data", X: plot.Axis{Name: "time"}, Y: plot.Axis{Name: "speed"}},
		plot.Line{X: []quantity.Quantity{0`min`, 1`min`}, Y: []quantity.Quantity{0`rpm`, speed.Value()}})
	show.Check(err)
	return f
}, speed, field, gas, wet)"""


def slider(lab, number):
    return lab.page.locator(".jp-OutputArea-output .noUi-handle").nth(number)


def readout(lab, number):
    return lab.page.locator(".widget-readout").nth(number).inner_text()


def press(lab, number, key, times):
    slider(lab, number).focus()
    for _ in range(times):
        lab.page.keyboard.press(key)


def drawn(lab):
    """The plot below the controls, as the model of the notebook has it."""
    return next(o["data"]["image/svg+xml"] for o in lab.cells()[0]["outputs"] if "image/svg+xml" in o.get("data", {}))


def told(lab, value):
    """Run the second cell until it shows the value."""

    def run():
        lab.editor(1).click()
        lab.page.keyboard.press("Control+Enter")
        lab.page.wait_for_timeout(500)
        outputs = lab.cells()[1]["outputs"]
        return outputs and outputs[-1]["data"]["text/plain"] == value

    lab.until(f"the cell shows {value}", run)


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_sliders(open_notebook, dark):
    lab = open_notebook(notebook(SLIDERS, "speed.Value()"), dark=dark)
    lab.run_all(2)
    slider(lab, 1).wait_for()
    before = drawn(lab)
    press(lab, 0, "ArrowRight", 10)
    lab.until("the slider says where it is", lambda: readout(lab, 0) == "65.0")
    lab.until("the plot is drawn anew", lambda: drawn(lab) != before)
    told(lab, "65 rpm")
    box = slider(lab, 0).bounding_box()
    lab.page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    lab.page.mouse.down()
    lab.page.mouse.move(box["x"] + 1000, box["y"], steps=20)
    lab.page.mouse.up()
    lab.until("the slider is at its end", lambda: readout(lab, 0) == "120.0")
    told(lab, "120 rpm")
    lab.page.locator(".widget-dropdown select").select_option("argon")
    lab.page.locator(".widget-checkbox input").check()
    lab.page.wait_for_timeout(500)
    lab.picture("sliders-dark" if dark else "sliders")
    for ratio, text in contrasts(lab.page, ".widget-label, .widget-readout, .widget-label-basic"):
        assert ratio >= 4.5, f"{text!r} has a contrast of {ratio:.1f}"


def test_sliders_after_reload(open_notebook):
    lab = open_notebook(notebook(SLIDERS, "speed.Value()"))
    lab.run_all(2)
    slider(lab, 1).wait_for()
    press(lab, 0, "ArrowRight", 10)
    lab.until("the slider says where it is", lambda: readout(lab, 0) == "65.0")
    told(lab, "65 rpm")
    lab.command("docmanager:save")
    lab.until("the notebook is saved", lambda: not lab.page.evaluate("() => window.jupyterapp.shell.currentWidget.content.model.dirty"))
    lab.page.reload()
    lab.page.wait_for_selector(".jp-Notebook .jp-CodeCell .cm-content")
    lab.until_idle()
    slider(lab, 1).wait_for()
    lab.until("the slider is where it was", lambda: readout(lab, 0) == "65.0")
    live = lab.page.locator(".jupyter-widgets .jp-RenderedSVG img, .jupyter-widgets .jp-RenderedImage img").first
    live.wait_for()
    before = live.get_attribute("src")
    press(lab, 0, "ArrowRight", 10)
    lab.until("the plot is drawn anew", lambda: live.get_attribute("src") != before)
    told(lab, "70 rpm")
    lab.picture("sliders-reloaded")


def test_sliders_of_an_untrusted_notebook(open_notebook):
    """There is no kernel behind it: the settings and the last plot are shown."""
    made = open_notebook(notebook(SLIDERS, "speed.Value()"))
    made.run_all(2)
    slider(made, 1).wait_for()
    press(made, 0, "ArrowRight", 10)
    made.until("the slider says where it is", lambda: readout(made, 0) == "65.0")
    told(made, "65 rpm")
    lab = open_notebook(notebook(SLIDERS, "", outputs=[made.cells()[0]["outputs"]]), kernel=False)
    picture = lab.page.locator('.jp-OutputArea-output[data-mime-type="image/png"] img')
    picture.wait_for()
    assert picture.evaluate("i => i.naturalWidth > 300 && i.complete")
    lab.until("the settings are shown", lambda: "drum speed: 65 rpm; " in lab.page.locator(".jp-OutputArea").first.inner_text())
    lab.picture("sliders-untrusted")
