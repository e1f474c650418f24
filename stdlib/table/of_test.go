package table

import (
	"strings"
	"testing"
	"time"

	"cobber/stdlib/quantity"

	"github.com/google/go-cmp/cmp"
)

type stream struct {
	Name   string
	Flow   quantity.Quantity `table:"solids flow"`
	Stage  int
	hidden float64
}

func TestOf(t *testing.T) {
	streams := []stream{{"feed", quantity.Of(36.5, "t/h"), 1, 0}, {"tailing", quantity.Of(900, "kg/h"), 2, 0}}
	streamText := "Name     solids flow (t/h)  Stage\n───────  ─────────────────  ─────\nfeed                  36.5      1\ntailing                0.9      2"
	tests := []struct {
		name  string
		value any
		want  string
	}{
		{"structs", streams, streamText},
		{"pointers to structs", []*stream{&streams[0], &streams[1]}, streamText},
		{"an array", [2]stream(streams), streamText},
		{"quantities", of("µm", 75, 150), "value (µm)\n──────────\n        75\n       150"},
		{"numbers", []float64{0.5, 2}, "value\n─────\n  0.5\n  2.0"},
		{"texts", []string{"a", "b"}, "value\n─────\na\nb"},
		{"values that print", []time.Duration{time.Second}, "value\n─────\n1s"},
		{"a map", map[string]quantity.Quantity{"b": quantity.Of(1, "kg"), "a": quantity.Of(2, "kg")}, "key  value (kg)\n───  ──────────\na             2\nb             1"},
		{"a map by number", map[int]string{10: "x", 9: "y"}, "key  value\n───  ─────\n  9  y\n 10  x"},
		{"a map of structs", map[string]stream{"k": streams[0]}, "key  Name  solids flow (t/h)  Stage\n───  ────  ─────────────────  ─────\nk    feed               36.5      1"},
		{"no rows", []stream{}, "Name  solids flow  Stage\n────  ───────────  ─────"},
	}
	for _, test := range tests {
		table, err := Of(test.value)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		if diff := cmp.Diff(test.want, table.String()); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

func TestOfRefuses(t *testing.T) {
	tests := []struct {
		name  string
		value any
		want  string
	}{
		{"nothing", nil, "nothing to make"},
		{"a number", 3, "a int is no table"},
		{"a nil pointer", []*stream{nil}, "row 1 is a nil pointer"},
		{"a struct without exported fields", []struct{ a int }{{1}}, "no exported field"},
		{"unlike dimensions", []quantity.Quantity{quantity.Of(1, "kg"), quantity.Of(1, "m")}, "row 2"},
	}
	for _, test := range tests {
		if _, err := Of(test.value); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: error %v, want one with %q", test.name, err, test.want)
		}
	}
}
