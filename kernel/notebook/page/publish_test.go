package page

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"cobber/kernel/notebook"
)

func figure(text string) notebook.Output {
	return result(map[string]any{"text/plain": text, "image/svg+xml": "<svg/>"})
}

func tableOf(cell string) notebook.Output {
	return result(map[string]any{"text/plain": cell, "text/html": "<table><tr><td>" + cell + "</td></tr></table>"})
}

func TestHead(t *testing.T) {
	lines := "---\ntitle: \"Black *sand*\"\nauthor: A. Miner; B. Sampler\ndate: 2 March 2027\nlang: en-GB\nabstract: >\n  It recovers $R$\n  of the mineral.\n---\n\n# Black *sand*\n\nWords."
	for _, kind := range []notebook.Kind{notebook.Markdown, notebook.Raw} {
		page, warnings := pageOf(t, Options{}, notebook.Cell{Kind: kind, Source: lines})
		if len(warnings) > 0 {
			t.Errorf("%s: warnings %v", kind, warnings)
		}
		wants(t, page, `<html lang="en-GB">`, `<p class="authors">A. Miner, B. Sampler</p>`, `<p class="date">2 March 2027</p>`,
			`role="doc-abstract"`, "of the mineral.")
		lacks(t, page, "author:", "---")
	}

	data, _, err := HTML(&notebook.Notebook{
		Metadata: map[string]any{"title": "By metadata", "authors": []any{map[string]any{"name": "C. Assayer"}}, "date": "2027"},
		Cells:    []notebook.Cell{markdown("# By metadata\n\nWords.")},
	}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	wants(t, string(data), "<title>By metadata</title>", "C. Assayer", `<p class="date">2027</p>`)
	if n := strings.Count(string(data), "By metadata</h1>"); n != 1 {
		t.Errorf("the title stands %d times", n)
	}

	_, warnings := pageOf(t, Options{}, markdown("---\ntitle: x\nauhtor: y\n---\n"))
	if len(warnings) != 1 || !strings.Contains(warnings[0], "auhtor") {
		t.Errorf("a key that is misspelt: %v", warnings)
	}
	got := body(t, markdown("---\n\na rule, then words\n\n---\n"))
	wants(t, got, "<hr", "a rule, then words")
}

func TestContents(t *testing.T) {
	got := body(t, markdown("# Title\n\n## One\n\n### In $x$ [one](#two)\n\n## Two"))
	wants(t, got, `<nav class="contents" aria-label="Contents">`, `<li><a href="#one">One</a><ol>`, `<li><a href="#two">Two</a></li>`)
	if opened, closed := strings.Count(got, "<li>"), strings.Count(got, "</li>"); opened != closed {
		t.Errorf("%d entries are opened and %d closed", opened, closed)
	}
	nav, _, _ := strings.Cut(got, "</nav>")
	if strings.Contains(nav, `href="#two">one`) {
		t.Error("a link stands within a link")
	}
	lacks(t, body(t, markdown("# Title\n\n## One\n\n## Two")), "<nav")
	lacks(t, body(t, markdown("---\ncontents: no\n---\n# Title\n\n## A\n\n## B\n\n## C")), "<nav")
}

// Who hears a page read out moves by headings: one of level 1, and no level
// left out (WCAG 2.1, technique H42 and success criterion 1.3.1).
func TestHeadingsAreInOrder(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"plain", "# T\n\n## A\n\n### B\n\n## C", "1 2 3 2"},
		{"a level is left out", "# T\n\n### A\n\n##### B\n\n##### C\n\n### D", "1 2 3 3 2"},
		{"chapters of level 1", "# T\n\n# A\n\n## B\n\n# C", "1 2 3 2"},
		{"title of level 2", "## T\n\n### A", "1 2"},
		{"deep", "# T\n\n## A\n\n### B\n\n#### C\n\n##### D\n\n###### E", "1 2 3 4 5 6"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var levels []string
			for _, match := range regexp.MustCompile(`<h([1-6])`).FindAllStringSubmatch(body(t, markdown(test.text)), -1) {
				levels = append(levels, match[1])
			}
			if got := strings.Join(levels, " "); got != test.want {
				t.Errorf("levels %s, want %s", got, test.want)
			}
		})
	}
}

func TestCaptionsAndReferences(t *testing.T) {
	got := body(t,
		markdown("# T\n\nSee [figure](#second), [](#first), [the sheet](#sheet) and [Table](#sheet)."),
		code("//cobber:figure first: The *first* curve\nx", figure("a plot")),
		code("//cobber:figure Without a name\n//cobber:table sheet: The sheet\n\nfoo", figure("a plot"), tableOf("1")),
		code("//cobber:figure second: Another\ny", tableOf("2"), figure("a plot")),
		code("z", figure("not numbered")),
	)
	wants(t, got,
		`<a href="#second">figure 3</a>`, `<a href="#first">Figure 1</a>`, `<a href="#sheet">the sheet</a>`, `<a href="#sheet">Table 1</a>`,
		`<figure class="numbered" id="first">`, `<figcaption><b>Figure 1.</b> The <em>first</em> curve</figcaption>`,
		`id="figure-2"`, `<figcaption><b>Table 1.</b> The sheet</figcaption>`)
	lacks(t, got, "cobber:figure", "Figure 4")
	above, below := strings.Index(got, "<b>Table 1"), strings.Index(got, "<table>")
	if above > below {
		t.Error("the caption of a table belongs above it")
	}

	_, warnings := pageOf(t, Options{}, markdown("[x](#nowhere)"), code("//cobber:table a: b\nx", figure("p")))
	all := strings.Join(warnings, "\n")
	if len(warnings) != 2 || !strings.Contains(all, "#nowhere") || !strings.Contains(all, "has no table") {
		t.Errorf("warnings %v", warnings)
	}
}

func TestSources(t *testing.T) {
	got := body(t,
		markdown("# T\n\nAs [@gy] says, and [@wills; p. 3]. Code `[@gy]` stays."),
		markdown("## Sources\n\n- [@other]: Never cited.\n- [@gy]: P. Gy, *Sampling*,\n  1979.\n"),
	)
	wants(t, got, `<a class="citation" href="#source-gy">[1]</a>`, "<code>[@gy]</code>",
		"<li id=\"source-gy\">P. Gy, <em>Sampling</em>, 1979.</li>\n<li id=\"source-other\">Never cited.</li>", "[@wills; p. 3]")
	if n := strings.Count(got, `class="sources"`); n != 1 {
		t.Errorf("%d lists of sources", n)
	}
	_, warnings := pageOf(t, Options{}, markdown("x [@nobody] y"))
	if len(warnings) != 1 || !strings.Contains(warnings[0], "nobody") {
		t.Errorf("warnings %v", warnings)
	}
}

func TestCodeIsHiddenOnWish(t *testing.T) {
	for mode, want := range map[string]string{"show": `class="source`, "fold": "<details><summary>Code</summary>", "hide": ""} {
		page, _ := pageOf(t, Options{Code: mode}, code("secret", result(map[string]any{"text/plain": "answer"})))
		wants(t, page, "answer", want)
		if mode == "hide" {
			lacks(t, page, "secret")
		}
	}
}

func TestFoot(t *testing.T) {
	page, _ := pageOf(t, Options{Made: []string{"cobber 1 <2>"}}, markdown("x"))
	wants(t, page, "<footer>\n<p>cobber 1 &lt;2&gt;</p>")
	without, _ := pageOf(t, Options{}, markdown("x"))
	lacks(t, without, "<footer>")
}

// Every picture has words for those who do not see it (WCAG 2.1, success
// criterion 1.1.1).
func TestEveryPictureHasWords(t *testing.T) {
	got := body(t, code("x", figure("plot of “a”"), result(map[string]any{"image/png": "AAAA"})), markdown("![words](data:image/png;base64,AAAA)"))
	for _, tag := range regexp.MustCompile(`<img[^>]*>`).FindAllString(got, -1) {
		if !regexp.MustCompile(`alt="[^"]+"`).MatchString(tag) {
			t.Errorf("no words for %s", tag)
		}
	}
	_, warnings := pageOf(t, Options{}, markdown("![](data:image/png;base64,AAAA)"))
	if len(warnings) != 1 || !strings.Contains(warnings[0], "no words") {
		t.Errorf("warnings %v", warnings)
	}
}

func ExampleHTML() {
	nb := &notebook.Notebook{Cells: []notebook.Cell{{Kind: notebook.Markdown, Source: "# A short page"}}}
	page, warnings, err := HTML(nb, Options{})
	fmt.Println(strings.Contains(string(page), "<h1"), len(warnings), err)
	// Output: true 0 <nil>
}
