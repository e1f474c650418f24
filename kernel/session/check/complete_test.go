package check_test

import (
	"html"
	"strings"
	"testing"

	"cobber/kernel/session/check"
	"cobber/kernel/source"
)

// sessionOf returns the state after some cells.
func sessionOf(t *testing.T, cells ...string) *check.State {
	t.Helper()
	state := check.NewState(source.NewSet())
	for i, text := range cells {
		if list := faultsOf(t, state, source.Cell{Name: "cell " + string(rune('1'+i)), Text: text}); len(list) > 0 {
			t.Fatal(list)
		}
	}
	return state
}

var assistCells = []string{
	"import \"strings\"\nfeedRate := 36.5\nµValue := 3",
	"// flow is what a pipe carries.\ntype flow struct { solids, water float64; note string }\n\n// total adds solids and water.\nfunc (f flow) total() float64 { return f.solids + f.water }\nf := flow{}",
	"// recovery is the part of the feed that is won.\nfunc recovery(feed, tails float64) float64 { return 1 - tails/feed }\nm := 3`t`",
}

// A text with | at the cursor, what must be among the matches and what not,
// and what is replaced.
func TestComplete(t *testing.T) {
	state := sessionOf(t, assistCells...)
	tests := []struct {
		name, text string
		with       []string
		without    []string
		replaced   string
	}{
		{"session name", "fee|", []string{"feedRate"}, []string{"strings", "result·0"}, "fee"},
		{"nothing yet", "|", []string{"feedRate", "strings", "for", "len", "quantity", "recovery"}, []string{"progress·"}, ""},
		{"other capitals", "FEED|", []string{"feedRate"}, nil, "FEED"},
		{"letters of several bytes", "x := µV|", []string{"µValue"}, nil, "µV"},
		{"package", "strings.ToU|", []string{"ToUpper"}, []string{"Trim"}, "ToU"},
		{"package, all", "strings.|", []string{"ToUpper", "Builder"}, []string{"asciiSet"}, ""},
		{"library without import", "quantity.Num|", []string{"Number"}, nil, "Num"},
		{"fields and methods", "f.|", []string{"solids", "water", "total"}, nil, ""},
		{"in an open call", "strings.Repeat(f.no|", []string{"note"}, []string{"solids"}, "no"},
		{"in a function", "func g(rate float64) {\n\tratio := 2.0\n\tif ra|", []string{"rate", "ratio"}, nil, "ra"},
		{"not yet declared", "func g() {\n\tra|\n\tratio := 2.0\n}", nil, []string{"ratio"}, "ra"},
		{"header of a loop", "for i := 0; i < f.so|", []string{"solids"}, nil, "so"},
		{"case of a switch", "switch feedRate {\ncase f.so|", []string{"solids"}, nil, "so"},
		{"name of the same cell", "pipe := flow{}\npipe.so|", []string{"solids"}, nil, "so"},
		{"after a line that is wrong", "y := := 3\nf.so|", []string{"solids"}, nil, "so"},
		{"field in a literal", "flow{so|", []string{"solids"}, nil, "so"},
		{"value of a call", "strings.NewReader(\"a\").Le|", []string{"Len"}, nil, "Le"},
		{"quantity", "m.In|", []string{"In"}, nil, "In"},
		{"quantity literal", "3`t`.In|", []string{"In"}, nil, "In"},
		{"unit", "x := 3`k|", []string{"kg"}, []string{"t"}, "k"},
		{"unit behind a slash", "x := 3`kg/h|", []string{"h"}, []string{"kg"}, "h"},
		{"unit with a multiple", "x := 3`kW|", []string{"kWh", "kW"}, nil, "kW"},
		{"import", "import \"stri|", []string{"strings"}, []string{"strconv"}, "stri"},
		{"inside a text", "s := \"fee|", nil, []string{"feedRate"}, ""},
		{"inside a comment", "// fee|", nil, []string{"feedRate"}, ""},
		{"directive", "//cobber:w|", []string{"//cobber:working", "//cobber:working expand"}, []string{"//cobber:inputs"}, "//cobber:w"},
		{"directive, begun", "//co|", []string{"//cobber:working", "//cobber:inputs"}, nil, "//co"},
		{"no directive", "//|", nil, []string{"//cobber:inputs"}, ""},
		{"text goes on behind", "x := fee| + 1\ny := 2", []string{"feedRate"}, nil, "fee"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			before, after, _ := strings.Cut(test.text, "|")
			text := before + after
			c := check.Complete(state, text, len([]rune(before)))
			found := map[string]bool{}
			for _, m := range c.Matches {
				found[m.Text] = true
			}
			for _, want := range test.with {
				if !found[want] {
					t.Errorf("%s is not proposed, but %v", want, c.Matches)
				}
			}
			for _, not := range test.without {
				if found[not] {
					t.Errorf("%s is proposed", not)
				}
			}
			if got := string([]rune(text)[c.Start:c.End]); got != test.replaced {
				t.Errorf("replaces %q, want %q", got, test.replaced)
			}
		})
	}
}

func TestCompletionsHaveSignatures(t *testing.T) {
	state := sessionOf(t, assistCells...)
	for text, want := range map[string]check.Match{
		"recovery":    {Text: "recovery", Type: "function", Signature: "(feed float64, tails float64) float64"},
		"feedR":       {Text: "feedRate", Type: "variable", Signature: "float64"},
		"f.tot":       {Text: "total", Type: "method", Signature: "() float64"},
		"f.sol":       {Text: "solids", Type: "field", Signature: "float64"},
		"strings.Rep": {Text: "Repeat", Type: "function", Signature: "(s string, count int) string"},
	} {
		c := check.Complete(state, text, len(text))
		if len(c.Matches) == 0 {
			t.Errorf("%s: nothing proposed, want %v", text, want)
			continue
		}
		got := c.Matches[0]
		if got.Text != want.Text || got.Type != want.Type || got.Signature != want.Signature {
			t.Errorf("%s: %v, want first %v", text, c.Matches, want)
		}
	}
}

func TestInspectAsHTML(t *testing.T) {
	state := sessionOf(t, "// f is <b>bold</b>.\nfunc f(c chan<- int) { c <- 1 }")
	got, _ := check.Inspect(state, "f", 1)
	if !strings.Contains(got.HTML, "f is &lt;b&gt;bold&lt;/b&gt;.") || !strings.Contains(got.HTML, "chan&lt;- int") {
		t.Errorf("markup of a comment is not shown as it is written: %s", got.HTML)
	}
	got, _ = check.Inspect(state, "comminution.Bond", 14)
	if !strings.Contains(got.HTML, "<p><b>Example:</b>") || !strings.Contains(got.HTML, "comminution.Bond(ore.WorkIndex, ") || !strings.Contains(got.Text, "// 9.408 kWh/st") {
		t.Errorf("there is no example with what it prints: %s", got.HTML)
	}
	got, _ = check.Inspect(state, "size.RosinRammler", 10)
	for _, want := range []string{"<pre><code>func RosinRammler(size, exponent quantity.Quantity) (Model, error)</code></pre>", "<pre>P = 1 − exp(−(x/x&apos;)ⁿ)", "<p><b>Units:</b> size", "<p><b>Source:</b> P. Rosin"} {
		if !strings.Contains(strings.ReplaceAll(got.HTML, "'", "&apos;"), want) {
			t.Errorf("%s\ndoes not contain %s", got.HTML, want)
		}
	}
}

func TestInspect(t *testing.T) {
	state := sessionOf(t, assistCells...)
	tests := []struct {
		name, text string
		want       []string // nil: nothing is known
	}{
		{"session function", "reco|very(1, 2)", []string{"func recovery(feed float64, tails float64) float64", "part of the feed", "cell 3"}},
		{"inside its call", "recovery(1, |", []string{"func recovery("}},
		{"session variable", "feedRate|", []string{"var feedRate float64", "cell 1"}},
		{"session type", "flow|{}", []string{"type flow struct", "what a pipe carries"}},
		{"method", "f.total|()", []string{"total() float64"}},
		{"Go's package", "strings|", []string{"package strings"}},
		{"Go's function", "strings.Repeat|", []string{"func Repeat(s string, count int) string", "count"}},
		{"library function", "quantity.Number|(1)", []string{"func Number(x float64) Quantity"}},
		{"library method", "m.Value|(\"kg\")", []string{"Value(unit string) (float64, error)"}},
		{"unit", "3`kW|h`", []string{"unit kWh", "energy"}},
		{"keyword", "for| {", []string{"keyword for"}},
		{"local", "func g(rate float64) float64 { return ra|te }", []string{"var rate float64"}},
		{"unknown", "nothingOfThatName|", nil},
		{"number", "12|", nil},
		{"blank", "|", nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			before, after, _ := strings.Cut(test.text, "|")
			got, ok := check.Inspect(state, before+after, len([]rune(before)))
			if ok != (test.want != nil) {
				t.Fatalf("known: %v, got %q", ok, got.Text)
			}
			for _, want := range test.want {
				if !strings.Contains(got.Text, want) {
					t.Errorf("%q does not contain %q", got.Text, want)
				}
				if shown := html.UnescapeString(got.HTML); !strings.Contains(shown, want) {
					t.Errorf("as HTML, %q does not contain %q", got.HTML, want)
				}
			}
		})
	}
}

// Neither may ever fail, wherever the cursor is.
func FuzzAssist(f *testing.F) {
	for _, seed := range []string{"f.so", "fmt.Println(f.", "3`kg/", "import \"", "for i := 0; i <", "flow{so", "\"a", "/* x", "x.y.z(", "µ.", ")]}", "`"} {
		f.Add(seed, len(seed))
	}
	state := check.NewState(source.NewSet())
	f.Fuzz(func(t *testing.T, text string, cursor int) {
		c := check.Complete(state, text, cursor)
		if n := len([]rune(text)); cursor >= 0 && cursor <= n && (c.Start < 0 || c.Start > c.End || c.End > n) {
			t.Errorf("replaces %d to %d of %d", c.Start, c.End, n)
		}
		check.Inspect(state, text, cursor)
	})
}
