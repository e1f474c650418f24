package maths

import (
	"strings"
	"testing"
)

// What KaTeX makes of a formula is KaTeX's own matter; these cases hold it to
// its MathML, which anyone can read off the formula.
func TestHTML(t *testing.T) {
	tests := []struct {
		name, tex string
		display   bool
		want      []string
	}{
		{"two-product recovery", `R = 100\,\frac{c\,(f-t)}{f\,(c-t)}`, true, []string{`class="katex-display"`, "<mfrac>", "<mi>R</mi>"}},
		{"inline", `d_{50}`, false, []string{"<msub><mi>d</mi><mn>50</mn></msub>"}},
		{"aligned", `\begin{align}a&=b\\c&=\sqrt{d}\end{align}`, true, []string{"<mtable", "<msqrt>"}},
		{"units in text", `36.5\ \text{t/h}\ µ`, false, []string{"t/h", "µ"}},
		{"chemistry", `\ce{CuFeS2}`, false, []string{"Cu", "Fe"}},
		{"markup is escaped", `a < b \text{<script>}`, false, []string{"&lt;script&gt;"}},
	}
	var typesetter Typesetter
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			html, err := typesetter.HTML(test.tex, test.display)
			if err != nil {
				t.Fatal(err)
			}
			for _, want := range test.want {
				if !strings.Contains(html, want) {
					t.Errorf("no %q in %s", want, html)
				}
			}
		})
	}
}

func TestErrors(t *testing.T) {
	tests := []struct{ name, tex, want string }{
		{"unfinished", `\frac{`, "Unexpected end of input"},
		{"unknown command", `\tonnes`, `Undefined control sequence: \tonnes`},
		{"endless macro", `\def\a{\a\a}\a`, "Too many expansions"},
		{"deeply nested", strings.Repeat("{", 100000), "nested"},
	}
	var typesetter Typesetter
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := typesetter.HTML(test.tex, false)
			if err == nil {
				t.Fatal("typeset without an error")
			}
			if !strings.Contains(err.Error(), test.want) {
				t.Errorf("error %q should contain %q", err, test.want)
			}
			if _, err := typesetter.HTML("x", false); err != nil {
				t.Errorf("a bad formula spoilt the next one: %v", err)
			}
		})
	}
}

func TestStyles(t *testing.T) {
	var typesetter Typesetter
	plain, err := typesetter.HTML("x", false)
	if err != nil {
		t.Fatal(err)
	}
	double, err := typesetter.HTML(`\mathbb{R}`, false)
	if err != nil {
		t.Fatal(err)
	}
	few, err := Styles(plain)
	if err != nil {
		t.Fatal(err)
	}
	more, err := Styles(plain + double)
	if err != nil {
		t.Fatal(err)
	}
	none, err := Styles("<p>no formula</p>")
	if err != nil || none != "" {
		t.Errorf("a page without formulas got %d bytes of styles, error %v", len(none), err)
	}
	if strings.Contains(few, "KaTeX_AMS;") || !strings.Contains(more, "font-family:KaTeX_AMS;font-style") {
		t.Error("the font of double-struck letters belongs to the page that uses them, and to no other")
	}
	for _, styles := range []string{few, more} {
		if strings.Contains(styles, "url(fonts/") || !strings.Contains(styles, "url(data:font/woff2;base64,") {
			t.Error("a font is to be fetched, not written into the page")
		}
	}
}

// Every font of the style sheet is here, and every font named in fontClasses is
// in the style sheet: a newer KaTeX may rename them.
func TestFontsAreComplete(t *testing.T) {
	seen := map[string]bool{}
	for _, face := range fontFace.FindAllString(stylesheet, -1) {
		file := fontFile.FindStringSubmatch(face)
		if file == nil {
			t.Errorf("no font file read from %s", face)
			continue
		}
		seen[file[1]] = true
		if _, err := fonts.ReadFile("katex/fonts/KaTeX_" + file[1] + ".woff2"); err != nil {
			t.Error(err)
		}
	}
	for name, classes := range fontClasses {
		if !seen[name] {
			t.Errorf("the style sheet has no font %s", name)
		}
		for _, class := range classes {
			if !strings.Contains(stylesheet, "."+class) {
				t.Errorf("the style sheet has no class %s", class)
			}
		}
	}
}

func BenchmarkFormula(b *testing.B) {
	for b.Loop() {
		typesetter := Typesetter{}
		if _, err := typesetter.HTML(`R = \frac{c\,(f-t)}{f\,(c-t)}`, true); err != nil {
			b.Fatal(err)
		}
	}
}
