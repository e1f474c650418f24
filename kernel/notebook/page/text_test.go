package page

import (
	"strings"
	"testing"

	"cobber/kernel/notebook"
)

func TestTextWithPictures(t *testing.T) {
	attached := markdown("![Our mark](attachment:mark.png) and `[@gy]`")
	attached.Attachments = map[string]any{"mark.png": map[string]any{"image/png": "iVBO\nRw0K\n"}}
	nb := &notebook.Notebook{Cells: []notebook.Cell{
		markdown("---\ntitle: A \"sand\"\nauthor: A. Miner; B. Sampler\n---\nSee [Figure](#curves) and [@gy]."),
		attached,
		code("//cobber:figure curves: The curves\nplot()", result(map[string]any{"text/plain": "plot [a]", "image/svg+xml": "<svg/>", "image/png": "AAAA"})),
		code("//cobber:table The sheet\nsheet", result(map[string]any{"text/plain": "a", "text/html": "<table>", "text/markdown": "| a |\n|---|"})),
		code("x", notebook.Output{Kind: notebook.Stream, Name: "stdout", Text: "\x1b[31m``` red\x1b[0m\n"}),
		markdown("## Sources\n\n[@gy]: P. Gy."),
	}}
	text, files, warnings := Markdown(nb, Options{Made: []string{"cobber 1"}}, "sand files")
	if len(warnings) > 0 {
		t.Errorf("warnings %v", warnings)
	}
	got := string(text)
	wants(t, got,
		"---\ntitle: \"A \\\"sand\\\"\"\nauthor:\n  - \"A. Miner\"\n  - \"B. Sampler\"\n", "See [Figure 1](#curves) and [\\[1\\]](#source-gy).",
		"![Our mark](sand%20files/mark.png) and `[@gy]`", "```go\nplot()\n```", "<a id=\"curves\"></a>\n\n![plot (a)](sand%20files/cell-3-1.png)\n\n**Figure 1.** The curves",
		"**Table 1.** The sheet\n\n| a |", "````text\n``` red\n````", "1. <a id=\"source-gy\"></a>P. Gy.", "*cobber 1*")
	lacks(t, got, "//cobber", "[@gy]:", "\x1b")
	if len(files) != 2 || string(files["sand files/mark.png"]) != "\x89PNG\r\n" || len(files["sand files/cell-3-1.png"]) != 3 {
		t.Errorf("files %q", files)
	}
	hidden, _, _ := Markdown(nb, Options{Code: "hide"}, "f")
	if strings.Contains(string(hidden), "plot()") {
		t.Error("hidden code is shown")
	}
}
