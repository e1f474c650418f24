package size

import (
	"math"
	"slices"
	"strings"
	"testing"
)

func millimetres(t *testing.T, sieve Sieve) float64 {
	t.Helper()
	mm, err := sieve.Opening.Value("mm")
	if err != nil {
		t.Fatal(err)
	}
	return mm
}

func seriesOf(t *testing.T, name string) []float64 {
	t.Helper()
	sieves, err := Series(name)
	if err != nil {
		t.Fatal(err)
	}
	openings := make([]float64, len(sieves))
	for i, sieve := range sieves {
		openings[i] = millimetres(t, sieve)
	}
	return openings
}

// A table of a standard can be mistyped, so it is held to what the standard
// says its numbers are: preferred numbers (ISO 3), each within 2 % of the exact
// ratio; the widest rounding in the tables is 0.063 for 0.0631 and 0.0355 → 0.036.
func TestSeriesFollowPreferredNumbers(t *testing.T) {
	tests := []struct {
		name string
		step float64 // tenths of a decade from one sieve to the next
	}{
		{"R20/3", 3.0 / 20}, {"R40/3", 3.0 / 40}, {"R20", 1.0 / 20},
	}
	for _, test := range tests {
		openings := seriesOf(t, test.name)
		for i, opening := range openings {
			// 125 mm is 10^(2 + 2/20) and belongs to all three series.
			ideal := math.Pow(10, 2.1-float64(i)*test.step)
			if ratio := opening / ideal; math.Abs(ratio-1) > 0.02 {
				t.Errorf("%s: sieve %d is %v mm, the preferred number is %.5g", test.name, i+1, opening, ideal)
			}
		}
	}
}

// ISO 565 nests its series: R20/3 lies in R40/3 and in R20. ASTM E11 takes over
// R40/3 whole.
func TestSeriesNest(t *testing.T) {
	tests := []struct{ inner, outer string }{
		{"R20/3", "R40/3"}, {"R20/3", "R20"}, {"R40/3", "ASTM E11"}, {"R'10", "ASTM E11"},
	}
	for _, test := range tests {
		outer := seriesOf(t, test.outer)
		for _, opening := range seriesOf(t, test.inner) {
			if !slices.ContainsFunc(outer, func(x float64) bool { return math.Abs(x-opening) < 1e-9 }) {
				t.Errorf("%v mm of %s is missing in %s", opening, test.inner, test.outer)
			}
		}
	}
}

// The Tyler scale starts from 200 meshes of 0.0029 in and grows by the fourth
// root of 2 from sieve to sieve; its printed openings keep to that within 1 %.
// The second list is what W.L. McCabe, J.C. Smith and P. Harriott print in
// example 30.1.
func TestTylerScaleIsAFourthRootOfTwo(t *testing.T) {
	all := seriesOf(t, "Tyler")
	openings := all[:len(all)-4]
	for i, opening := range openings {
		ideal := 0.0029 * 25.4 * math.Pow(2, float64(len(openings)-1-i)/4)
		if ratio := opening / ideal; math.Abs(ratio-1) > 0.01 {
			t.Errorf("%s is %v mm, the scale has %.4g", tyler[i].name, opening, ideal)
		}
	}
	// Below 200 mesh the openings keep to the scale within 2 µm. 270, 325 and 400 mesh
	// are tabulated as 53, 43 and 38 µm in a public comparison of ASTM E11 and Tyler.
	for i, opening := range all[len(openings):] {
		ideal := 0.0029 * 25.4 * math.Pow(2, -float64(i+1)/4)
		if math.Abs(opening-ideal) > 0.002 {
			t.Errorf("%s is %v mm, the scale has %.4g", tyler[len(openings)+i].name, opening, ideal)
		}
	}
	for _, printed := range []float64{4.699, 3.327, 2.362, 1.651, 1.168, .833, .589, .417, .295, .208, .147, .104, .074} {
		if !slices.Contains(openings, printed) {
			t.Errorf("%v mm is missing", printed)
		}
	}
}

func TestSeriesFall(t *testing.T) {
	ends := map[string][2]float64{"R20/3": {125, 0.045}, "R40/3": {125, 0.038}, "R20": {125, 0.036}, "ASTM E11": {125, 0.02}, "Tyler": {7.925, 0.038}, "R'10": {0.032, 0.02}}
	counts := map[string]int{"R20/3": 24, "R40/3": 48, "R20": 72, "ASTM E11": 56, "Tyler": 32, "R'10": 3}
	for _, name := range SeriesNames() {
		openings := seriesOf(t, name)
		for i := 1; i < len(openings); i++ {
			// No two neighbours of any series are further apart than R20/3 is.
			if ratio := openings[i-1] / openings[i]; ratio < 1.02 || ratio > 1.45 {
				t.Errorf("%s: %v mm follows %v mm", name, openings[i], openings[i-1])
			}
		}
		if openings[0] != ends[name][0] || openings[len(openings)-1] != ends[name][1] || len(openings) != counts[name] {
			t.Errorf("%s: %d sieves from %v to %v mm", name, len(openings), openings[0], openings[len(openings)-1])
		}
	}
	if _, err := Series("R10"); err == nil || !strings.Contains(err.Error(), "R40/3") {
		t.Errorf("an unknown series gives %v", err)
	}
}

// The pairs are those of ASTM E11 that every laboratory knows by heart.
func TestFindSieve(t *testing.T) {
	tests := []struct {
		label string
		mm    float64
		name  string
	}{
		{"#200", 0.075, "#200"}, {"No. 200", 0.075, "#200"}, {"no 200", 0.075, "#200"}, {"No.4", 4.75, "#4"},
		{"# 325", 0.045, "#325"}, {"#3½", 5.6, "#3-1/2"}, {"75 µm", 0.075, "#200"}, {"75 um", 0.075, "#200"},
		{"0.075 mm", 0.075, "#200"}, {"1 mm", 1, "#18"}, {"1.18mm", 1.18, "#16"}, {"300 µm", 0.3, "#50"},
		{"1 in", 25, "1 in"}, {`1"`, 25, "1 in"}, {"3/8 in", 9.5, "3/8 in"}, {"3 1/2 inch", 90, "3-1/2 in"},
		{"Tyler 65", 0.208, "Tyler 65 mesh"}, {"65 mesh Tyler", 0.208, "Tyler 65 mesh"}, {"Tyler #3½", 5.613, "Tyler 3-1/2 mesh"},
		{"147 µm", 0.147, "Tyler 100 mesh"},
		{"1½ in", 37.5, "1-1/2 in"}, {"25 mm", 25, "1 in"}, {"0.56 mm", 0.56, ""}, {"36 µm", 0.036, ""},
	}
	for _, test := range tests {
		sieve, err := FindSieve(test.label)
		if err != nil {
			t.Errorf("%q: %v", test.label, err)
			continue
		}
		if mm := millimetres(t, sieve); math.Abs(mm-test.mm) > 1e-12 || sieve.Designation != test.name {
			t.Errorf("%q is %v mm %q, want %v mm %q", test.label, mm, sieve.Designation, test.mm, test.name)
		}
	}
}

func TestFindSieveRefuses(t *testing.T) {
	tests := []struct{ label, want string }{
		{"200 mesh", "#200"}, {"Tyler 66", "no such mesh"}, {"Tyler 500", "no such mesh"}, {"77 µm", "75 µm"}, {"#201", "no sieve"}, {"1.1 in", "no sieve"}, {"76 µm", "75 µm"},
		{"", "names no sieve"}, {"coarse", "names no sieve"}, {"3 kg", "length"}, {"pan", "names no sieve"},
	}
	for _, test := range tests {
		_, err := FindSieve(test.label)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%q: error %v, want one with %q", test.label, err, test.want)
		}
	}
}

func TestSieveInWords(t *testing.T) {
	for label, want := range map[string]string{"#200": "75 µm (#200)", "4.75 mm": "4.75 mm (#4)", "0.56 mm": "560 µm"} {
		sieve, err := FindSieve(label)
		if err != nil {
			t.Fatal(err)
		}
		if sieve.String() != want {
			t.Errorf("%q prints as %q, want %q", label, sieve, want)
		}
	}
}
