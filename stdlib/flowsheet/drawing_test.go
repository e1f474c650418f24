package flowsheet

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"cobber/stdlib/plot"
	"cobber/stdlib/stream"
)

// pictures puts what a test drew where it can be looked at, if asked to.
func picture(t *testing.T, name string, figure *plot.Figure) {
	t.Helper()
	if folder := os.Getenv("PICTURES"); folder != "" {
		if err := os.WriteFile(folder+"/"+name+".png", figure.PNG(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func TestDrawings(t *testing.T) {
	for name, sheet := range map[string]*Flowsheet{
		"six": sixUnits(t, grid(t, 6, 3)), "mill": millCircuit(t, grid(t, 6, 3), 0), "bank": bank(t, 4),
	} {
		r := must[*Result](t)(sheet.Solve())
		figure := r.Drawing()
		picture(t, name, figure)
		svg := string(figure.SVG())
		for _, step := range sheet.steps {
			if !strings.Contains(svg, ">"+step.Name+"<") {
				t.Errorf("%s: no box %s", name, step.Name)
			}
		}
		if !bytes.Equal(figure.SVG(), must[*Result](t)(sheet.Solve()).Drawing().SVG()) {
			t.Errorf("%s: drawn in two ways", name)
		}
		graded := must[*plot.Figure](t)(r.DrawingOf("ilmenite"))
		picture(t, name+"-graded", graded)
		if !strings.Contains(string(graded.SVG()), "%") {
			t.Errorf("%s: no grades", name)
		}
		bands := must[*plot.Figure](t)(r.FlowDiagram("ilmenite"))
		picture(t, name+"-bands", bands)
		if words := bands.String(); !strings.Contains(words, "ilmenite") {
			t.Errorf("words %q", words)
		}
	}
	if _, err := must[*Result](t)(millCircuit(t, grid(t, 6, 3), 0).Solve()).FlowDiagram("Au"); err == nil {
		t.Error("gold drawn")
	}
}

// No two nodes of a column overlap, links run from left to right but for those
// that lead back, and every stream is drawn once.
func TestLayout(t *testing.T) {
	for _, sheet := range []*Flowsheet{sixUnits(t, grid(t, 3, 2)), bank(t, 7), millCircuit(t, grid(t, 3, 2), 0)} {
		middle := func(_ node, links []link) []float64 { return make([]float64, len(links)) }
		l := sheet.lay(measure{func(node, []link) float64 { return 20 }, 10, middle, middle})
		for _, column := range l.columns {
			for i := 1; i < len(column); i++ {
				if a, b := l.nodes[column[i-1]], l.nodes[column[i]]; b.y-a.y < 30-1e-9 {
					t.Errorf("%s: two nodes at %g and %g", sheet.name, a.y, b.y)
				}
			}
		}
		if len(l.links) != len(sheet.flows) {
			t.Errorf("%s: %d links for %d flows", sheet.name, len(l.links), len(sheet.flows))
		}
		for _, e := range l.links {
			for i := 1; i < len(e.path); i++ {
				if step := l.nodes[e.path[i]].column - l.nodes[e.path[i-1]].column; !e.back && step != 1 {
					t.Errorf("%s: a link over %d columns", sheet.name, step)
				}
			}
		}
	}
}

// Widths are to scale: what a bar is high follows from the flow.
func TestBandsToScale(t *testing.T) {
	r := must[*Result](t)(sixUnits(t, grid(t, 3, 2)).Solve())
	d := &bands{sheet: r.sheet, rates: make([]float64, len(r.streams)), scale: 2}
	for at, s := range r.streams {
		d.rates[at] = s.Solids().SI()
	}
	for at, s := range r.streams {
		near(t, "band", d.band(at), 2*s.Solids().SI(), 1e-12)
	}
	l := r.sheet.lay(measure{d.throughput, 5, d.stacked, d.stacked})
	for _, n := range l.nodes {
		if n.kind == stepNode {
			near(t, "bar", n.height, 2*must[stream.Stream](t)(r.feedOf(n.index)).Solids().SI(), 1e-6)
		}
	}
}
