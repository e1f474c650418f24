package flowsheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
	"cobber/stdlib/table"
)

// Result is a plant in its steady state. Flowsheet.Solve makes it.
type Result struct {
	sheet   *Flowsheet
	streams []stream.Stream
	loops   []Loop
	fresh   float64 // kg/s fed, solids and water
}

func kilograms(flow float64) quantity.Quantity { return quantity.Of(flow, "kg/s") }

// Flowsheet is the plant.
func (r *Result) Flowsheet() *Flowsheet { return r.sheet }

// Stream is a stream of the plant by its name.
//
// Units: as the stream.
//
// Range: feeds, products and all between.
//
// Errors: a name that no stream has, with those there are.
//
// Source: the solution of the plant.
func (r *Result) Stream(name string) (stream.Stream, error) {
	at, err := r.sheet.find(name)
	if err != nil {
		return stream.Stream{}, fmt.Errorf("flowsheet: %q: %w", name, err)
	}
	return r.streams[at], nil
}

// Streams are all streams: feeds first, then the products of each step.
func (r *Result) Streams() []stream.Stream { return slices.Clone(r.streams) }

// Products are the streams that leave the plant.
func (r *Result) Products() []stream.Stream {
	var products []stream.Stream
	for _, at := range r.sheet.products() {
		products = append(products, r.streams[at])
	}
	return products
}

// Feed is all that is fed, as one stream.
func (r *Result) Feed() stream.Stream {
	feed, err := stream.Mix("feed", r.sheet.feeds...)
	if err != nil {
		panic("flowsheet: " + err.Error()) // New has refused feeds that do not mix
	}
	return feed
}

// FeedOf is what a step gets, its streams mixed.
//
// Units: as the stream.
//
// Range: every step.
//
// Errors: a name that no step has.
//
// Source: mass is conserved.
func (r *Result) FeedOf(step string) (stream.Stream, error) {
	u := slices.IndexFunc(r.sheet.steps, func(s Step) bool { return s.Name == step })
	if u < 0 {
		var names []string
		for _, s := range r.sheet.steps {
			names = append(names, s.Name)
		}
		return stream.Stream{}, fmt.Errorf("flowsheet: there is no step %q; there are %s", step, strings.Join(names, ", "))
	}
	return r.feedOf(u)
}

func (r *Result) feedOf(u int) (stream.Stream, error) {
	return (&run{Flowsheet: r.sheet, streams: r.streams}).feedOf(u)
}

// Recovery is the share of a mineral, element or oxide of all that is fed which
// is found in a stream; for "solids" its yield.
//
// Units: in %.
//
// Range: above 100 % for a stream inside a recycle.
//
// Errors: a name that no stream has; what is not in the feed.
//
// Source: the definition of recovery.
func (r *Result) Recovery(name, what string) (quantity.Quantity, error) {
	s, err := r.Stream(name)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return stream.Recovery(s, r.Feed(), what)
}

// Loops are the groups of recycles and how each was solved; none where nothing
// is recycled.
func (r *Result) Loops() []Loop { return slices.Clone(r.loops) }

// Convergence says how the recycles were solved and how far from settled they
// are.
func (r *Result) Convergence() table.Table {
	var cuts, methods, residuals, worst []string
	var passes []float64
	for _, l := range r.loops {
		cuts, methods = append(cuts, strings.Join(l.Cut, ", ")), append(methods, l.Method)
		passes, residuals = append(passes, float64(l.Passes)), append(residuals, small(l.Residual))
		worst = append(worst, l.Worst)
	}
	caption := "Recycles; what is left over is a share of the fresh feed"
	if len(r.loops) == 0 {
		caption = "Nothing is recycled"
	}
	return tabled(caption, table.Texts("cut at", cuts), table.Texts("method", methods), table.Numbers("passes", passes), table.Texts("left over", residuals), table.Texts("most of it", worst))
}

// tabled is a table whose columns are of one length, which table.New accepts.
func tabled(caption string, columns ...table.Column) table.Table {
	made, err := table.New(columns...)
	if err != nil {
		panic("flowsheet: " + err.Error())
	}
	return made.Caption(caption)
}

// unitTolerance is by how much of a unit's feed its products may be off.
const unitTolerance = 1e-8

// checkUnits holds every unit to its feed: solids, water and each mineral.
func (r *Result) checkUnits() error {
	for u, step := range r.sheet.steps {
		feed, err := r.feedOf(u)
		if err != nil {
			return err
		}
		var products []stream.Stream
		for _, at := range r.sheet.outlets[u] {
			products = append(products, r.streams[at])
		}
		for _, row := range closing([]stream.Stream{feed}, products) {
			allowed := unitTolerance * feed.Pulp().SI()
			if len(r.loops) > 0 {
				allowed += tolerance * 100 * r.fresh
			}
			if math.Abs(row.in-row.out) > allowed {
				return fmt.Errorf("flowsheet: %s does not close: it gets %v of %s and gives %v", step.Name, kilograms(row.in).To("t/h"), row.what, kilograms(row.out).To("t/h"))
			}
		}
	}
	return nil
}

// plantTolerance is by how much of the fresh feed what leaves the plant may be off.
const plantTolerance = 1e-6

// checkPlant holds the products to the feeds. A recycle that has grown until the
// feed is less than its rounding looks settled, and nothing of the feed leaves.
func (r *Result) checkPlant() error {
	for _, row := range closing(r.sheet.feeds, r.Products()) {
		if math.Abs(row.in-row.out) <= plantTolerance*r.fresh {
			continue
		}
		most := r.streams[0]
		for _, s := range r.streams {
			if s.Pulp().SI() > most.Pulp().SI() {
				most = s
			}
		}
		return fmt.Errorf("flowsheet: %s does not close: it is fed %v of %s and %v leaves it, while %s has grown to %.3g times the feed. The circuit has no steady state at this feed, or recycles more than numbers can tell from it",
			r.sheet.name, r.rate(row.in), row.what, r.rate(row.out), most.Name(), most.Pulp().SI()/r.fresh)
	}
	return nil
}

// closed is one component in and out, kg/s.
type closed struct {
	what    string
	in, out float64
}

// closing compares solids, water and every mineral of some streams.
func closing(in, out []stream.Stream) []closed {
	rows := []closed{{what: "solids"}, {what: "water"}}
	minerals := in[0].Classes().Minerals()
	for _, name := range minerals {
		rows = append(rows, closed{what: name})
	}
	content := make([][]float64, len(minerals))
	for k, name := range minerals {
		content[k] = shares(in[0].Classes(), name)
	}
	add := func(s stream.Stream, to func(row *closed) *float64) {
		*to(&rows[1]) += s.WaterFlow()
		c := s.Classes()
		for j := range c.Particles() {
			var flow float64
			for i := range c.Sizes() {
				flow += s.Flow(i, j)
			}
			*to(&rows[0]) += flow
			for k := range content {
				*to(&rows[2+k]) += flow * content[k][j]
			}
		}
	}
	for _, s := range in {
		add(s, func(row *closed) *float64 { return &row.in })
	}
	for _, s := range out {
		add(s, func(row *closed) *float64 { return &row.out })
	}
	return rows
}

// shares are those of a mineral in the particle classes.
func shares(c *stream.Classes, mineral string) []float64 {
	out := make([]float64, c.Particles())
	for j := range out {
		out[j] = c.Particle(j).Share(mineral)
	}
	return out
}

// Closure is the plant's balance: solids, water and each mineral, in and out.
func (r *Result) Closure() table.Table {
	var names, off []string
	var in, out []quantity.Quantity
	for _, row := range closing(r.sheet.feeds, r.Products()) {
		names = append(names, row.what)
		in, out = append(in, r.rate(row.in)), append(out, r.rate(row.out))
		off = append(off, small(math.Abs(row.in-row.out)/r.fresh))
	}
	return tabled("Closure; the difference is a share of the fresh feed", table.Texts("component", names),
		table.Quantities("in", in), table.Quantities("out", out), table.Texts("difference", off))
}

// small is a share that ought to be nothing. Below a trillionth it is rounding,
// whose digits say nothing and differ between machines.
func small(share float64) string {
	switch {
	case share == 0:
		return "0"
	case share < 1e-12:
		return "< 1e-12"
	}
	return fmt.Sprintf("%.1e", share)
}

// rate is a flow in the unit in which the first feed is shown.
func (r *Result) rate(flow float64) quantity.Quantity {
	return kilograms(flow).To(r.sheet.feeds[0].Solids().Unit().Symbol())
}
