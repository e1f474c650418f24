package plot

import (
	"fmt"
	"path/filepath"
	"slices"
	"testing"

	"cobber/stdlib/quantity"
)

// classes is bars with names and labels, which need room beside them.
func classes(t *testing.T) *Figure {
	t.Helper()
	return drawn(t, Axes{X: Axis{Name: "share", Zero: true}, Y: Axis{Name: "size class", Names: []string{"−355 +250 µm", "−63 µm"}}},
		Bars{Name: "mass", At: Numbers(1, 2), To: Numbers(3, 4), Sideways: true, Labels: []string{"3", "4"}},
		Upright{Name: "all: 3", X: quantity.Number(3)})
}

// A picture too small for its texts is refused, rather than drawn with axes that
// have no length; panels need room for each of them.
func TestSizeLeavesRoomForTheAxes(t *testing.T) {
	four, ten := quantity.Of(4, "cm"), quantity.Of(10, "cm")
	if _, err := drawn(t, Axes{}, Points{X: Numbers(1, 2), Y: Numbers(1, 2)}).Size(four, four); err != nil {
		t.Errorf("points on bare axes have no room on 4 cm: %v", err)
	}
	pair, err := Panels("", 2, classes(t), classes(t))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := pair.Size(four, four); err == nil {
		t.Error("two panels are drawn side by side on 4 cm")
	}
	small, err := pair.Size(ten, four)
	if err != nil {
		t.Fatal(err)
	}
	for _, picture := range [][]byte{small.PNG(), small.SVG(), small.PDF()} {
		if len(picture) == 0 {
			t.Error("a small picture is empty")
		}
	}
}

func TestPicturesGrowWithTheirTexts(t *testing.T) {
	var marks []Mark
	for i := range 80 {
		marks = append(marks, Line{Name: fmt.Sprintf("product %d of the second cleaner", i), X: Numbers(1, 2), Y: Numbers(1, float64(i))})
	}
	if f := drawn(t, Axes{}, marks...); f.high <= height || !f.roomy(f.wide, f.high) {
		t.Errorf("80 names in the key leave no room in a height of %v", f.high)
	}
	pair, err := Panels("", 1, classes(t), classes(t))
	if err != nil {
		t.Fatal(err)
	}
	nested, err := Panels("", 6, slices.Repeat([]*Figure{pair}, 6)...)
	if err != nil || !nested.roomy(nested.wide, nested.high) {
		t.Errorf("panels within panels have no room (%v)", err)
	}
	if f := classes(t); f.wide != width || f.high != height {
		t.Errorf("a figure with room enough is %v by %v", f.wide, f.high)
	}
}

// A narrow frame has smaller letters, so that the axes keep their room.
func TestNarrowFrames(t *testing.T) {
	pair, err := Panels("", 2, classes(t), classes(t))
	if err != nil {
		t.Fatal(err)
	}
	if err := pair.SaveFrame(filepath.Join(t.TempDir(), "narrow.png"), 200, 1000); err != nil {
		t.Error(err)
	}
}

// Ticks that stand at different values have different labels.
func TestTickLabels(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      []string
	}{
		{-4e-15, 4e-15, []string{"−4e−15", "−2e−15", "0", "2e−15", "4e−15"}},
		{6e-13, 1.4e-12, []string{"6e−13", "8e−13", "1e−12", "1.2e−12", "1.4e−12"}},
		{1e9, 1e9 + 2, []string{"1000000000.0", "1000000000.5", "1000000001.0", "1000000001.5", "1000000002.0"}},
		{0, 2e9, []string{"0", "5e8", "1e9", "1.5e9", "2e9"}},
		{0, 1, []string{"0.0", "0.2", "0.4", "0.6", "0.8", "1.0"}},
		{1200000, 1200040, []string{"1200000", "1200010", "1200020", "1200030", "1200040"}},
	} {
		var got []string
		for _, tick := range linearScale(c.low, c.high).ticks {
			got = append(got, tick.Label)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("from %v to %v: %q, want %q", c.low, c.high, got, c.want)
		}
	}
}
