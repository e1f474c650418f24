package page

import (
	"encoding/base64"
	"errors"
	"regexp"
	"slices"
	"strings"
	"testing"

	"cobber/kernel/notebook"
)

func pageOf(t *testing.T, o Options, cells ...notebook.Cell) (page string, warnings []string) {
	t.Helper()
	data, warnings, err := HTML(&notebook.Notebook{Cells: cells}, o)
	if err != nil {
		t.Fatal(err)
	}
	return string(data), warnings
}

// body is what stands between the marks of main, without line ends.
func body(t *testing.T, cells ...notebook.Cell) string {
	t.Helper()
	page, warnings := pageOf(t, Options{}, cells...)
	for _, warning := range warnings {
		t.Errorf("warning: %s", warning)
	}
	_, rest, _ := strings.Cut(page, "<main>\n")
	inner, _, found := strings.Cut(rest, "</main>")
	if !found {
		t.Fatal("the page has no main part")
	}
	return inner
}

func markdown(text string) notebook.Cell {
	return notebook.Cell{Kind: notebook.Markdown, Source: text}
}

func code(text string, outputs ...notebook.Output) notebook.Cell {
	return notebook.Cell{Kind: notebook.Code, Source: text, Count: 1, Outputs: outputs}
}

func result(data map[string]any) notebook.Output {
	return notebook.Output{Kind: notebook.Result, Data: data}
}

func wants(t *testing.T, got string, parts ...string) {
	t.Helper()
	for _, part := range parts {
		if !strings.Contains(got, part) {
			t.Errorf("no %q in:\n%s", part, got)
		}
	}
}

func lacks(t *testing.T, got string, parts ...string) {
	t.Helper()
	for _, part := range parts {
		if strings.Contains(got, part) {
			t.Errorf("%q has no business in:\n%s", part, got)
		}
	}
}

func TestTitle(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"first heading", "Words.\n\n## Balance of *copper* & $R$ `x`\n\n# Later", "Balance of copper &amp; R x"},
		{"no heading", "Words.", "survey"},
		{"underlined heading", "Recovery\n========", "Recovery"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			page, _ := pageOf(t, Options{Name: "survey"}, markdown(test.text))
			wants(t, page, "<title>"+test.want+"</title>")
		})
	}
	page, _ := pageOf(t, Options{})
	wants(t, page, "<title>Notebook</title>")
}

func TestMarkdown(t *testing.T) {
	tests := []struct {
		name, text string
		want, not  []string
	}{
		{"table", "| a | b |\n|---|--:|\n| 1 | 2 |", []string{"<table>", `<td style="text-align:right">2</td>`}, nil},
		{"footnote", "a[^1]\n\n[^1]: b", []string{`id="cell-1-fn:1"`}, nil},
		{"heading anchor", "words\n\n## Über die *Körnung*", []string{`<h2 id="über-die-körnung">`}, nil},
		{"fenced Go", "```go\nx := 36.5`t/h`\n```", []string{`<span class="number">36.5</span><span class="unit">`}, nil},
		{"fenced unknown", "```nolanguage\na < b\n```", []string{"a &lt; b"}, nil},
		{"markup kept", "<b>x</b> H<sub>2</sub>O", []string{"<b>x</b>", "<sub>2</sub>"}, nil},
		{"inline formula", "so $a_1 * b_1 * c$ is", []string{`class="katex"`, "<msub>"}, []string{"<em>", "$"}},
		{"inline formula over a line end", "so $a +\nb$ is", []string{`class="katex"`}, []string{"$"}},
		{"money", "from $5 to $10 a tonne", []string{"from $5 to $10 a tonne"}, []string{"katex"}},
		{"escaped dollar", `\$x\$`, []string{"$x$"}, []string{"katex"}},
		{"a dollar alone", "a $ b", []string{"a $ b"}, []string{"katex"}},
		{"formula in code", "`$x$`", []string{"<code>$x$</code>"}, []string{"katex"}},
		{"display formula", "$$\nx\n= y\n$$", []string{`class="katex-display"`}, []string{"<h1", "$$"}},
		{"display formula in a paragraph", "so $$x = y$$ holds", []string{`class="katex-display"`, "so ", " holds"}, nil},
		{"display formula in a line", "$$x = y$$", []string{`class="katex-display"`}, []string{"<p>"}},
		{"display formula not closed", "$$x = y\n\nmore", []string{"$$x = y", "<p>more</p>"}, []string{"katex"}},
		{"environment", "words\n\\begin{align}\na &= 1 \\\\\n- b &= 2\n\\end{align}\nwords", []string{`class="katex-display"`}, []string{"<li>", "begin{align}<"}},
		{"brackets", `so \\(x\\) and \\[y\\] hold`, []string{`class="katex-display"`}, []string{`\(`, `\[`}},
		{"formula in a list", "- a $x$\n- b\n\n  $$\n  y\n  $$\n", []string{"<li>", `class="katex-display"`}, []string{"$"}},
		{"formula in a table", "| a |\n|---|\n| $x$ |", []string{"<td>", `class="katex"`}, nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := body(t, markdown(test.text))
			annotation := regexp.MustCompile(`<annotation.*?</annotation>`) // holds the TeX itself
			got = annotation.ReplaceAllString(got, "")
			wants(t, got, test.want...)
			lacks(t, got, test.not...)
		})
	}
}

func TestAnchorsAndFootnotesAreUniqueOnThePage(t *testing.T) {
	got := body(t, markdown("# A\n\nx[^1]\n\n[^1]: y"), markdown("# A\n\nx[^1]\n\n[^1]: y"))
	seen := map[string]bool{}
	for _, match := range regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(got, -1) {
		if seen[match[1]] {
			t.Errorf("two places are called %s", match[1])
		}
		seen[match[1]] = true
	}
	wants(t, got, `id="a"`, `id="a-2"`, `id="cell-1-fn:1"`, `id="cell-2-fn:1"`)
}

func TestBadFormula(t *testing.T) {
	page, warnings := pageOf(t, Options{}, markdown("fine $x$"), markdown(`bad $\tonnes$ and fine $y$`))
	wants(t, page, `<code class="untypeset"`, `\tonnes</code>`)
	if len(warnings) != 1 || !strings.Contains(warnings[0], `cell 2 of 2: a formula cannot be typeset: Undefined control sequence: \tonnes`) {
		t.Errorf("warnings %q", warnings)
	}
}

func TestCode(t *testing.T) {
	got := body(t, code("//cobber:working\n// Feed of the circuit.\nfeed := 36.5`t/h` + 5`%`\nvar s string = `raw` // <b>"))
	wants(t, got,
		`<span class="directive">//cobber:working</span>`,
		`<span class="comment">// Feed of the circuit.</span>`,
		"<span class=\"number\">36.5</span><span class=\"unit\">`</span><span class=\"unit\">t/h</span><span class=\"unit\">`</span>",
		`<span class="number">5</span><span class="unit">`,
		`<span class="keyword">var</span>`, `<span class="type">string</span>`,
		`<span class="string">raw</span>`, "&lt;b&gt;",
		`<span class="count" title="run as number 1">1</span>`)
	text := regexp.MustCompile(`<[^>]*>`).ReplaceAllString(got, "")
	wants(t, text, "feed := 36.5`t/h` + 5`%`\nvar s string = `raw` // &lt;b&gt;")
}

func TestLanguageOfTheNotebook(t *testing.T) {
	nb := &notebook.Notebook{Cells: []notebook.Cell{code("def f(): pass")},
		Metadata: map[string]any{"language_info": map[string]any{"name": "python"}}}
	data, _, err := HTML(nb, Options{})
	if err != nil {
		t.Fatal(err)
	}
	wants(t, string(data), `<span class="keyword">def</span>`)
}

func TestParts(t *testing.T) {
	print := notebook.Output{Kind: notebook.Stream, Name: "stdout", Text: "printed"}
	tests := []struct {
		name      string
		metadata  map[string]any
		want, not []string
	}{
		{"all", nil, []string{"source", "printed"}, nil},
		{"cell removed", map[string]any{"tags": []any{"remove-cell"}}, nil, []string{"source", "printed"}},
		{"input removed", map[string]any{"tags": []any{"remove_input"}}, []string{"printed"}, []string{"source"}},
		{"output removed", map[string]any{"tags": []any{"remove-output"}}, []string{"source"}, []string{"printed"}},
		{"input folded", map[string]any{"jupyter": map[string]any{"source_hidden": true}}, []string{"printed"}, []string{"source"}},
		{"output folded", map[string]any{"jupyter": map[string]any{"outputs_hidden": true}}, []string{"source"}, []string{"printed"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			cell := code("x", print)
			cell.Metadata = test.metadata
			got := body(t, cell)
			wants(t, got, test.want...)
			lacks(t, got, test.not...)
		})
	}
}

func TestRawCells(t *testing.T) {
	raw := func(format string) notebook.Cell {
		return notebook.Cell{Kind: notebook.Raw, Source: "<b>*x*</b>", Metadata: map[string]any{"format": format}}
	}
	wants(t, body(t, raw("")), "&lt;b&gt;*x*")
	wants(t, body(t, raw("text/html")), "<b>*x*</b>")
	wants(t, body(t, raw("text/markdown")), "<b><em>x</em></b>")
	lacks(t, body(t, raw("text/latex")), "x")
}

func TestOutputs(t *testing.T) {
	svg := `<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>`
	png := base64.StdEncoding.EncodeToString([]byte("\x89PNG\r\n\x1a\n"))
	tests := []struct {
		name      string
		output    notebook.Output
		want, not []string
	}{
		{"text", result(map[string]any{"text/plain": "36.5 t/h <"}), []string{"<pre>36.5 t/h &lt;</pre>"}, nil},
		{"table before text", result(map[string]any{"text/html": "<table><tr><td>1</td></tr></table>", "text/plain": "plain"}), []string{`<div class="html"><table>`}, []string{"plain"}},
		{"drawing before picture", result(map[string]any{"image/svg+xml": svg, "image/png": png, "text/plain": "the \"curve\""}),
			[]string{`<img src="data:image/svg+xml;base64,`, `alt="the &#34;curve&#34;"`}, []string{"<svg", "<script", "image/png"}},
		{"broken drawing", result(map[string]any{"image/svg+xml": "", "image/png": png + "\n"}), []string{`src="data:image/png;base64,` + png + `"`}, nil},
		{"size", notebook.Output{Kind: notebook.Display, Data: map[string]any{"image/png": png}, Metadata: map[string]any{"image/png": map[string]any{"width": 300}}}, []string{`width="300"`}, nil},
		{"formula", result(map[string]any{"text/latex": `$R = \frac{1}{2}$ of all`, "text/plain": "plain"}), []string{"<mfrac>", " of all"}, []string{"plain"}},
		{"document brackets", result(map[string]any{"text/latex": `\[R\]`}), []string{"katex-display"}, nil},
		{"table for a document", result(map[string]any{"text/latex": `\begin{tabular}{l}1\end{tabular}`, "text/plain": "plain"}), []string{"<pre>plain</pre>"}, []string{"tabular"}},
		{"Markdown", result(map[string]any{"text/markdown": "**b**"}), []string{"<strong>b</strong>"}, nil},
		{"JSON alone", result(map[string]any{"application/json": map[string]any{"a": 1}}), []string{"&#34;a&#34;: 1"}, nil},
		{"stdout", notebook.Output{Kind: notebook.Stream, Name: "stdout", Text: "10%\r100%\nab\bc\n"}, []string{"<pre>100%\nac</pre>"}, []string{"stderr"}},
		{"stderr is labelled", notebook.Output{Kind: notebook.Stream, Name: "stderr", Text: "x"}, []string{`<span class="label">stderr</span>`}, nil},
		{"error", notebook.Output{Kind: notebook.Failure, ErrorName: "unit error", ErrorValue: "no unit", Traceback: []string{"\x1b[31mcell 1\x1b[0m: no <unit>", "    x\ty"}},
			[]string{`class="output failure"`, `<span class="t-fg1">cell 1</span>: no &lt;unit&gt;` + "\n    x\ty"}, []string{"\x1b"}},
		{"error without lines", notebook.Output{Kind: notebook.Failure, ErrorName: "unit error", ErrorValue: "no unit"}, []string{"unit error: no unit"}, nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := body(t, code("", test.output))
			wants(t, got, test.want...)
			lacks(t, got, test.not...)
		})
	}
}

func TestOutputThatCannotBeShown(t *testing.T) {
	_, warnings := pageOf(t, Options{}, code("x", result(map[string]any{"application/x-thing": "?"})))
	if len(warnings) != 1 || !strings.Contains(warnings[0], "cell 1 of 1: an output has no media type that a page can show") {
		t.Errorf("warnings %q", warnings)
	}
}

func TestPictures(t *testing.T) {
	png := []byte("\x89PNG\r\n\x1a\n")
	options := Options{File: func(path string) ([]byte, error) {
		switch path {
		case "fig/a b.png":
			return png, nil
		case "notes.txt":
			return []byte("words"), nil
		}
		return nil, errors.New("no such file")
	}}
	inline := `src="data:image/png;base64,` + base64.StdEncoding.EncodeToString(png) + `"`
	tests := []struct{ name, text, want, warning string }{
		{"beside the notebook", `![a](<fig/a b.png>)`, inline, ""},
		{"as markup", `<img alt='a' width="300" src='fig/a%20b.png'>`, inline, ""},
		{"attached", `![a](attachment:mark.png)`, `src="data:image/png;base64,iVBORw0K"`, ""},
		{"written into the text", `![a](data:image/png;base64,AAAA)`, `src="data:image/png;base64,AAAA"`, ""},
		{"not attached", `![a](attachment:other.png)`, `class="missing"`, "no attachment of that name"},
		{"missing", `![words](b.png)`, `>words</a>`, "the picture b.png is not on the page: no such file"},
		{"not a picture", `![a](notes.txt)`, `class="missing"`, "it is not a picture but text/plain"},
		{"on a network", `![a](https://example.org/a.png)`, `<a class="missing" href="https://example.org/a.png">a</a>`, "it lies on a network"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			cell := markdown(test.text)
			cell.Attachments = map[string]any{"mark.png": map[string]any{"image/png": "iVBO\nRw0K\n"}}
			page, warnings := pageOf(t, options, cell)
			wants(t, page, test.want)
			all := strings.Join(warnings, "\n")
			if (all != "") != (test.warning != "") || !strings.Contains(all, test.warning) {
				t.Errorf("warnings %q", warnings)
			}
			lacks(t, page, `src="https`, `src='`)
		})
	}
}

// What the page itself asks a browser to load: nothing, whatever a cell shows.
func TestThePageLoadsNothing(t *testing.T) {
	page, _ := pageOf(t, Options{}, markdown("# T\n\n$x$ `x`"), code("x", result(map[string]any{"text/html": "<script src='https://example.org/x.js'></script>"})))
	wants(t, page, `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; font-src data:; style-src 'unsafe-inline'; form-action 'none'; base-uri 'none'">`)
	head, _, _ := strings.Cut(page, "<main>")
	lacks(t, head, "<script", "<link", "@import")
	for _, match := range regexp.MustCompile(`url\(([^)]{0,20})`).FindAllStringSubmatch(page, -1) {
		if !strings.HasPrefix(match[1], "data:") {
			t.Errorf("the style asks for %s", match[1])
		}
	}
	if strings.Index(page, "Content-Security-Policy") > strings.Index(page, "<style>") {
		t.Error("the policy must come before what it governs")
	}
}

func TestFontsOnlyWithFormulas(t *testing.T) {
	without, _ := pageOf(t, Options{}, markdown("plain"))
	with, _ := pageOf(t, Options{}, markdown("$x$"))
	if strings.Contains(without, "font-face") || !strings.Contains(with, "font-face") {
		t.Error("fonts for formulas belong on pages with formulas, and only there")
	}
	if size := len(without); size > 16<<10 {
		t.Errorf("a page with one word has %d bytes", size)
	}
}

func TestTerminalText(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"plain", "a <b>", "a &lt;b&gt;"},
		{"colour", "\x1b[31mx\x1b[0my", `<span class="t-fg1">x</span>y`},
		{"bright colour on a ground", "\x1b[1;94;42mx\x1b[m", `<span class="t-bold t-fg4 t-bg2">x</span>`},
		{"one of 256", "\x1b[38;5;196mx", `<span style="color:#ff0000">x</span>`},
		{"grey of 256", "\x1b[48;5;232mx", `<span style="background-color:#080808">x</span>`},
		{"red, green, blue", "\x1b[38;2;1;2;300mx", `<span style="color:#0102ff">x</span>`},
		{"weights end", "\x1b[1;3;4;7mx\x1b[22;23;24;27my", `<span class="t-bold t-italic t-underline t-inverse">x</span>y`},
		{"other commands", "\x1b[2K\x1b[1Gx\x1b]0;title\x07y\x1b(z", "xy\x1b(z"},
		{"cut short", "\x1b[38;5mx\x1b[", "x\x1b["},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := terminalText(test.text); got != test.want {
				t.Errorf("%q became\n%s, want\n%s", test.text, got, test.want)
			}
		})
	}
}

func TestSameBytes(t *testing.T) {
	cells := []notebook.Cell{markdown("# A $x$[^1]\n\n[^1]: b"), code("x", result(map[string]any{"text/html": "a", "text/plain": "b", "image/png": "AAAA"}))}
	first, _ := pageOf(t, Options{}, cells...)
	for range 5 {
		if again, _ := pageOf(t, Options{}, cells...); again != first {
			t.Fatal("the same notebook gave another page")
		}
	}
}

// No text may bring the page down: it comes from people.
func FuzzMarkdown(f *testing.F) {
	for _, seed := range []string{"$$\n", "- $$\n  x\n  $$", "> \\begin{a}\n> \\end{a}", "|$|\n|-|\n|$|", "![](\x00)", "$\\", "\\\\(", "```go\n$x$", "[^1]\n[^1]: $$x$$"} {
		f.Add(seed)
	}
	f.Add("```go" + strings.Repeat("\xd6", 5000)) // the search for a language this long once took seconds
	f.Fuzz(func(t *testing.T, text string) {
		page, warnings, err := HTML(&notebook.Notebook{Cells: []notebook.Cell{markdown(text)}}, Options{})
		if err != nil || !strings.HasSuffix(string(page), "</html>\n") {
			t.Errorf("error %v", err)
		}
		if slices.Contains(warnings, "") {
			t.Error("a warning without a text")
		}
	})
}

func BenchmarkPage(b *testing.B) {
	var cells []notebook.Cell
	for range 50 {
		cells = append(cells, markdown("## Words\n\nand $R = \\frac{a}{b}$\n"), code("feed := 36.5`t/h`\nfeed * 8`h`", result(map[string]any{"text/plain": "292 t"})))
	}
	for b.Loop() {
		if _, _, err := HTML(&notebook.Notebook{Cells: cells}, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
