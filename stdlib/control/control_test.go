package control

import (
	"fmt"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
	"cobber/stdlib/show"
)

func of(x float64, unit string) quantity.Quantity { return quantity.Of(x, unit) }

func TestSliders(t *testing.T) {
	for _, c := range []struct {
		low, high, start quantity.Quantity
		step             float64
	}{
		{of(20, "rpm"), of(120, "rpm"), of(60, "rpm"), 0.5},
		{of(0, "t/h"), of(1, "t/h"), of(250, "kg/h"), 0.005},
		{of(-5, "°"), of(40, "°"), of(0, "°"), 0.2},
		{of(0, "km"), of(2000, "km"), of(3, "m"), 10},
		{quantity.Number(0), quantity.Number(1), of(35, "%"), 0.005},
	} {
		d, err := Slide("x", c.low, c.high, c.start)
		if err != nil {
			t.Errorf("from %v to %v: %v", c.low, c.high, err)
			continue
		}
		k := d.knob()
		if !d.Value().Equal(c.start) || k.Step != c.step || k.Get() < k.Low || k.Get() > k.High {
			t.Errorf("from %v to %v: starts at %v in steps of %v, want %v and %v", c.low, c.high, d.Value(), k.Step, c.start, c.step)
		}
		if err := k.Set(k.High); err != nil || !d.Value().Equal(c.high) || d.Value().Unit().String() != c.low.Unit().String() {
			t.Errorf("moved to the end it says %v (%v), want %v", d.Value(), err, c.high)
		}
	}
}

func TestWhatIsRefused(t *testing.T) {
	uncertain := quantity.Must(quantity.Uniform(of(1, "t"), of(2, "t")))
	dial := func(d *Dial, err error) error { return err }
	choice := func(c *Choice, err error) error { return err }
	feed, _ := Slide("feed", of(1, "t/h"), of(5, "t/h"), of(2, "t/h"))
	gas, _ := Choose("gas", "air", "argon")
	for _, c := range []struct {
		err  error
		says string
	}{
		{dial(Slide("", of(1, "t"), of(2, "t"), of(1, "t"))), "needs a name"},
		{dial(Slide("x", of(1, "t"), of(2, "m"), of(1, "t"))), "not of one dimension"},
		{dial(Slide("x", of(2, "t"), of(1, "t"), of(1, "t"))), "low end 2 t is not below its high end 1 t"},
		{dial(Slide("x", of(1, "t"), of(2, "t"), of(3, "t"))), "goes from 1 t to 2 t: 3 t is outside"},
		{dial(Slide("x", of(1, "t"), of(2, "t"), uncertain)), "uncertain"},
		{dial(Decades("x", of(0, "t"), of(2, "t"), of(1, "t"))), "begin above 0"},
		{choice(Choose("x", "a")), "two options or more"},
		{choice(Choose("x", "a", "b", "a")), `"a" twice`},
		{feed.Set(of(3, "kW")), "takes what is measured in t/h"},
		{feed.Set(of(30, "t/h")), "is outside"},
		{feed.Set(quantity.Must(quantity.Normal(of(3, "t/h"), of(0.1, "t/h")))), "is uncertain"},
		{gas.Set("water"), "it has air, argon"},
		{Show(nil, feed), "nothing to draw"},
		{Show(func() any { return 1 }), "nothing to move"},
		{Show(func() any { return 1 }, feed, feed), `two controls are called "feed"`},
	} {
		if c.err == nil || !strings.Contains(c.err.Error(), c.says) {
			t.Errorf("said %v, want %q", c.err, c.says)
		}
	}
}

func TestShow(t *testing.T) {
	feed, _ := Slide("feed", of(1, "t/h"), of(5, "t/h"), of(2, "t/h"))
	wet, _ := Turn("wet", true)
	var got show.Event
	stop := show.Listen(func(e show.Event) { got = e })
	defer stop()
	if err := Show(func() any { return feed.Value().Mul(quantity.Number(2)) }, feed, wet); err != nil {
		t.Fatal(err)
	}
	if got.Kind != show.KindPanel || fmt.Sprint(got.Values) != "[4 t/h]" || got.Panel.String() != "feed: 2 t/h\nwet: on" {
		t.Fatalf("showed %v", got)
	}
	if err := got.Panel.Knobs[0].Set(3.25); err != nil || fmt.Sprint(got.Panel.Draw()) != "6.5 t/h" {
		t.Errorf("moved to 3.25 it draws %v (%v)", got.Panel.Draw(), err)
	}
	if err := got.Panel.Knobs[0].Set(0.1 * 3 * 10); err != nil || feed.Value().String() != "3 t/h" {
		t.Errorf("a sum of steps shows as %v (%v)", feed.Value(), err)
	}
}

func TestStartsFromOutside(t *testing.T) {
	show.Preset(map[string]string{"feed": "2500 kg/h", "gas": "argon", "wet": "on", "typing error": "1"})
	defer show.Preset(nil)
	feed, err := Slide("feed", of(1, "t/h"), of(5, "t/h"), of(2, "t/h"))
	if err != nil || !feed.Value().Equal(of(2.5, "t/h")) {
		t.Errorf("feed is %v, %v", feed, err)
	}
	gas, err := Choose("gas", "air", "argon")
	if err != nil || gas.Value() != "argon" {
		t.Errorf("gas is %v, %v", gas, err)
	}
	wet, err := Turn("wet", false)
	if err != nil || !wet.On() {
		t.Errorf("wet is %v, %v", wet, err)
	}
	if left := show.Unused(); fmt.Sprint(left) != "[typing error]" {
		t.Errorf("unused are %v", left)
	}
	show.Preset(map[string]string{"grade": "1", "feed": "2500 kg/h"})
	if _, err := Slide("grade", of(0, "%"), of(100, "%"), of(5, "%")); err == nil || !strings.Contains(err.Error(), "write the unit too") {
		t.Errorf("a percentage without its sign: %v", err)
	}
	if _, err := Slide("feed", of(1, "t/h"), of(2, "t/h"), of(2, "t/h")); err == nil || !strings.Contains(err.Error(), "outside") {
		t.Errorf("out of bounds: %v", err)
	}
}
