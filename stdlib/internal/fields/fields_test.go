package fields

import (
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

func TestComplaintsNameTheField(t *testing.T) {
	none := quantity.Quantity{}
	for _, test := range []struct {
		read func(r *Reader) float64
		says string
	}{
		{func(r *Reader) float64 { return r.Positive("Width", none, "m") }, "test: a thing: Width is missing; it is given in units such as m, and 0 with a unit too"},
		{func(r *Reader) float64 { return r.Positive("Width", quantity.Of(1, "kg"), "m") }, "Width is given in units such as m, and 1 kg is not"},
		{func(r *Reader) float64 { return r.Positive("Width", quantity.Of(0, "m"), "m") }, "Width is above 0, and 0 m is not"},
		{func(r *Reader) float64 { return r.Within("Share", quantity.Of(120, "%"), "1", 0, 1, 0) }, "Share lies between 0 and 1, and 120 % does not"},
		{func(r *Reader) float64 { return r.AtLeast("Loss", quantity.Of(-1, "W"), "W", 0) }, "Loss is 0 or above, and -1 W is not"},
		{func(r *Reader) float64 { return r.Turns("Speed", quantity.Of(1, "Hz")) }, "Speed is a speed of rotation"},
	} {
		r := Of("test: a thing")
		test.read(r)
		if r.Err == nil || !strings.Contains(r.Err.Error(), test.says) {
			t.Errorf("%v, want %q", r.Err, test.says)
		}
	}
	r := Of("test: a thing")
	if x := r.Within("Share", none, "1", 0, 1, 0.3) + r.AtLeast("Loss", none, "W", 2); x != 2.3 || r.Err != nil {
		t.Errorf("what is left out: %g, %v", x, r.Err)
	}
	r.Fail("first")
	r.Fail("second")
	if !strings.HasSuffix(r.Err.Error(), "first") {
		t.Error(r.Err)
	}
}

func TestOnlyWhatIsStatedIsShown(t *testing.T) {
	type inner struct{ Depth, Height quantity.Quantity }
	text := Stated(struct {
		Width, Length quantity.Quantity
		Inner, Other  inner
		Count         int
		Names         []string
		hidden        int
	}{Width: quantity.Of(2, "m"), Inner: inner{Depth: quantity.Of(3, "mm")}, Names: []string{"a", "b"}, hidden: 1})
	if want := "Width 2 m\nInner Depth 3 mm\nNames 2 stated"; text != want {
		t.Errorf("%q, want %q", text, want)
	}
}

func TestSamplesArePutIntoACopy(t *testing.T) {
	type box struct{ Width, Length quantity.Quantity }
	width, err := quantity.Normal(quantity.Of(2, "m"), quantity.Of(0.1, "m"))
	if err != nil {
		t.Fatal(err)
	}
	b := box{Width: width}
	fields := func(b *box) []*quantity.Quantity { return []*quantity.Quantity{&b.Width, &b.Length} }
	twice, err := Through(fields(&b), func(put func([]*quantity.Quantity), v []quantity.Quantity) (quantity.Quantity, error) {
		one := b
		put(fields(&one))
		if !one.Length.IsNothing() || one.Width.IsUncertain() {
			t.Fatal("a field that was left out is stated, or one is not a sample")
		}
		return one.Width.Mul(v[0]), nil
	}, quantity.Number(2))
	if err != nil || !twice.IsUncertain() || !b.Width.IsUncertain() {
		t.Errorf("%v, %v", twice, err)
	}
}
