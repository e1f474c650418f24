package settling

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/numeric"
	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Layer is a suspension and how fast it settles.
type Layer struct {
	Solids   quantity.Quantity // mass of solids per volume of suspension
	Velocity quantity.Quantity
}

// Thickening is what layers ask of a thickener. Make one with Thicken.
type Thickening struct {
	layers    []Layer
	underflow quantity.Quantity
	areas     []float64 // m² per kg/s
	limiting  int
}

// Thicken is the area that a thickener needs to bring solids to an underflow of
// concentration cu: every layer between feed and underflow must let the solids
// through,
//
//	A/W = max (1/c − 1/cu)/v
//
// with W the flow of solids. It is the method of Coe and Clevenger; with layers
// from one test by Batch.Layers that of Kynch.
//
// Units: concentrations are masses of solids per volume of suspension; velocities.
//
// Range: layers from the feed's concentration to near the underflow's. A layer as
// thick as the underflow or thicker asks for nothing and is left out.
//
// Errors: no layer thinner than the underflow; concentrations or velocities of
// another kind or not above 0.
//
// Source: H.S. Coe, G.H. Clevenger, Trans. AIME 55 (1916) 356; G.J. Kynch, Trans.
// Faraday Soc. 48 (1952) 166; Coulson and Richardson, vol. 2, ch. 5.
func Thicken(layers []Layer, underflow quantity.Quantity) (Thickening, error) {
	thick, err := positive(underflow, "kg/m³", "concentration of the underflow")
	if err != nil {
		return Thickening{}, err
	}
	t := Thickening{underflow: underflow}
	for i, layer := range layers {
		c, err := positive(layer.Solids, "kg/m³", "concentration")
		if err != nil {
			return Thickening{}, fmt.Errorf("layer %d: %w", i+1, err)
		}
		v, err := positive(layer.Velocity, "m/s", "velocity")
		if err != nil {
			return Thickening{}, fmt.Errorf("layer %d: %w", i+1, err)
		}
		if c < thick {
			t.layers, t.areas = append(t.layers, layer), append(t.areas, (1/c-1/thick)/v)
		}
	}
	if len(t.layers) == 0 {
		return Thickening{}, fmt.Errorf("settling: no layer is thinner than the underflow of %v", underflow)
	}
	for i, area := range t.areas {
		if area > t.areas[t.limiting] {
			t.limiting = i
		}
	}
	return t, nil
}

// UnitArea is the area per flow of solids, in m²·d/t.
func (t Thickening) UnitArea() quantity.Quantity {
	return unitArea(t.areas[t.limiting])
}

// unitArea shows m² per kg/s as m²·d/t.
func unitArea(area float64) quantity.Quantity {
	return quantity.Of(area/86.4, "m²·d/t")
}

// Limiting is the layer that asks for the largest area. If it is the first or
// the last one given, another beyond it may ask for more.
func (t Thickening) Limiting() Layer { return t.layers[t.limiting] }

// Area is the area for a flow of solids, in m².
//
// Units: solids is a mass flow.
//
// Range: without an allowance for surges, which practice adds.
//
// Errors: a flow of another kind or not above 0.
//
// Source: as Thicken.
func (t Thickening) Area(solids quantity.Quantity) (quantity.Quantity, error) {
	if _, err := positive(solids, "kg/s", "flow of solids"); err != nil {
		return quantity.Quantity{}, err
	}
	return t.UnitArea().Mul(solids).To("m²"), nil
}

// Table is what each layer asks for.
func (t Thickening) Table() table.Table {
	var solids, velocities, areas []quantity.Quantity
	for i, layer := range t.layers {
		solids, velocities = append(solids, layer.Solids), append(velocities, layer.Velocity)
		areas = append(areas, unitArea(t.areas[i]))
	}
	made, err := table.New(table.Quantities("solids", solids), table.Quantities("velocity", velocities), table.Quantities("unit area", areas))
	if err != nil {
		panic("settling: " + err.Error()) // Thicken has refused all that could lead here
	}
	return made.Caption(fmt.Sprintf("Unit area for an underflow of %v; the largest counts", t.underflow))
}

// String is Table as text.
func (t Thickening) String() string { return t.Table().String() }

// HTML is Table as HTML.
func (t Thickening) HTML() string { return t.Table().HTML() }

// Markdown is Table as Markdown.
func (t Thickening) Markdown() string { return t.Table().Markdown() }

// LaTeX is Table as LaTeX.
func (t Thickening) LaTeX() string { return t.Table().LaTeX() }

// Batch is a settling test in a jar: the height of the interface over time. Make
// one with NewBatch.
type Batch struct {
	solids          quantity.Quantity // at the start
	seconds, metres []float64
	curve           numeric.Curve // of the depth below the start over time
}

// NewBatch is a settling test.
//
// Units: solids is the concentration at the start, a mass per volume of
// suspension; times and heights of the interface, one of each.
//
// Range: three readings or more, the first at time 0. Between readings the
// curve is a monotone cubic.
//
// Errors: lengths that differ, too few readings, a first time that is not 0,
// times that do not rise, heights that rise or are not above 0, quantities of
// another kind.
//
// Source: the jar test; common practice.
func NewBatch(solids quantity.Quantity, times, heights []quantity.Quantity) (Batch, error) {
	if _, err := positive(solids, "kg/m³", "concentration at the start"); err != nil {
		return Batch{}, err
	}
	if len(times) != len(heights) || len(times) < 3 {
		return Batch{}, fmt.Errorf("settling: a test needs three readings at least, each a time and a height; there are %d times and %d heights", len(times), len(heights))
	}
	b := Batch{solids: solids}
	var depths []float64
	for i := range times {
		t, err := times[i].Value("s")
		if err != nil || i == 0 && t != 0 || i > 0 && !(t > b.seconds[i-1]) {
			return Batch{}, fmt.Errorf("settling: reading %d: times rise from 0, and %v does not", i+1, times[i])
		}
		h, err := positive(heights[i], "m", "height")
		if err != nil {
			return Batch{}, fmt.Errorf("reading %d: %w", i+1, err)
		}
		if i > 0 && h > b.metres[i-1] {
			return Batch{}, fmt.Errorf("settling: reading %d: the interface sinks, and %v is above %v", i+1, heights[i], heights[i-1])
		}
		b.seconds, b.metres = append(b.seconds, t), append(b.metres, h)
		depths = append(depths, b.metres[0]-h)
	}
	b.curve = numeric.Smooth(b.seconds, depths)
	return b, nil
}

// slope is how fast the interface sinks at a time between the readings.
func (b Batch) slope(seconds float64) float64 {
	last := b.seconds[len(b.seconds)-1]
	step := 1e-6 * last
	from, to := max(0, seconds-step), min(last, seconds+step)
	return (b.curve.At(to) - b.curve.At(from)) / (to - from)
}

// Layers are the suspensions that passed the interface during the test, by
// Kynch: at each reading the tangent meets the axis of heights at H, and
//
//	c = c₀·H₀/H,  v the slope of the tangent
//
// Units: concentrations in the unit of the start, velocities in m/s.
//
// Range: suspensions whose velocity depends on concentration alone, before they
// compress. The last reading is left out, its slope is known from one side only;
// so are readings where the interface stands.
//
// Errors: an interface that never sinks.
//
// Source: G.J. Kynch (1952); Coulson and Richardson, vol. 2, ch. 5.
func (b Batch) Layers() ([]Layer, error) {
	var layers []Layer
	for i := range b.seconds[:len(b.seconds)-1] {
		v := b.slope(b.seconds[i])
		if !(v > 0) {
			continue
		}
		meets := b.metres[i] + v*b.seconds[i]
		layers = append(layers, Layer{
			Solids:   b.solids.Mul(quantity.Number(b.metres[0] / meets)),
			Velocity: quantity.Of(v, "m/s"),
		})
	}
	if len(layers) == 0 {
		return nil, errors.New("settling: the interface does not sink at any reading")
	}
	return layers, nil
}

// TalmageFitch is the unit area of a thickener from a test by the construction
// of Talmage and Fitch: the tangent at the compression point meets the height of
// the underflow, Hu = c₀·H₀/cu, at the time tu, and
//
//	A/W = tu/(c₀·H₀)
//
// Where Hu lies above the compression point, tu is read from the curve.
//
// Units: underflow is a concentration; compression the time of the compression
// point, where the curve bends most; the result in m²·d/t.
//
// Range: compression between the first and the last reading. It tends to larger
// areas than Thicken.
//
// Errors: an underflow thinner than the start; a time outside the test; a
// tangent that does not sink.
//
// Source: W.P. Talmage, E.B. Fitch, Ind. Eng. Chem. 47 (1955) 38 (reference from
// memory).
func (b Batch) TalmageFitch(underflow, compression quantity.Quantity) (quantity.Quantity, error) {
	thick, err := positive(underflow, "kg/m³", "concentration of the underflow")
	if err != nil {
		return quantity.Quantity{}, err
	}
	c0, h0 := b.solids.SI(), b.metres[0]
	if thick <= c0 {
		return quantity.Quantity{}, fmt.Errorf("settling: the underflow, %v, is not thicker than the test began, %v", underflow, b.solids)
	}
	at, err := positive(compression, "s", "time of the compression point")
	if err != nil {
		return quantity.Quantity{}, err
	}
	if at >= b.seconds[len(b.seconds)-1] {
		return quantity.Quantity{}, fmt.Errorf("settling: the compression point, %v, lies outside the test", compression)
	}
	wanted, height := c0*h0/thick, h0-b.curve.At(at)
	reached := b.curve.Where(h0 - wanted)
	if wanted < height {
		v := b.slope(at)
		if !(v > 0) {
			return quantity.Quantity{}, fmt.Errorf("settling: at %v the interface stands, and its tangent leads nowhere", compression)
		}
		reached = at + (height-wanted)/v
	}
	return unitArea(reached / (c0 * h0)), nil
}

// Height is the height of the interface at a time, between the readings.
//
// Units: a time; the height in m.
//
// Range: within the test.
//
// Errors: what is no time, or lies outside the test.
//
// Source: monotone cubic through the readings.
func (b Batch) Height(time quantity.Quantity) (quantity.Quantity, error) {
	t, err := time.Value("s")
	if err != nil {
		return quantity.Quantity{}, fmt.Errorf("settling: a time, and %v is none", time)
	}
	depth := b.curve.At(t)
	if math.IsNaN(depth) {
		return quantity.Quantity{}, fmt.Errorf("settling: %v lies outside the test", time)
	}
	return quantity.Of(b.metres[0]-depth, "m"), nil
}
