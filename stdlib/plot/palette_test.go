package plot

import (
	"image/color"
	"math"
	"testing"
)

// What colour-blind readers see, after G.M. Machado, M.M. Oliveira, L.A.F.
// Fernandes, IEEE Trans. Vis. Comput. Graph. 15 (2009) 1291, full severity, on
// linear RGB (values from memory; TestVisionKeepsGrey checks their rows).
var visions = map[string][3][3]float64{
	"full colour": {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"no red":      {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"no green":    {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"no blue":     {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
}

func TestVisionKeepsGrey(t *testing.T) {
	for name, matrix := range visions {
		for _, row := range matrix {
			if sum := row[0] + row[1] + row[2]; math.Abs(sum-1) > 1e-5 {
				t.Errorf("%s: a row adds up to %v", name, sum)
			}
		}
	}
}

// linear is the sRGB transfer function of IEC 61966-2-1.
func linear(c color.RGBA) [3]float64 {
	var out [3]float64
	for i, channel := range []uint8{c.R, c.G, c.B} {
		x := float64(channel) / 255
		if x <= 0.04045 {
			out[i] = x / 12.92
		} else {
			out[i] = math.Pow((x+0.055)/1.055, 2.4)
		}
	}
	return out
}

func seen(by [3][3]float64, rgb [3]float64) [3]float64 {
	var out [3]float64
	for i, row := range by {
		out[i] = min(1, max(0, row[0]*rgb[0]+row[1]*rgb[1]+row[2]*rgb[2]))
	}
	return out
}

// lab is CIE L*a*b* under D65.
func lab(rgb [3]float64) [3]float64 {
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x := f((0.4124564*rgb[0] + 0.3575761*rgb[1] + 0.1804375*rgb[2]) / 0.95047)
	y := f(0.2126729*rgb[0] + 0.7151522*rgb[1] + 0.0721750*rgb[2])
	z := f((0.0193339*rgb[0] + 0.1191920*rgb[1] + 0.9503041*rgb[2]) / 1.08883)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// A difference of about 2 can just be seen side by side; 30 is plain across a
// picture, in thin lines too.
func TestColoursStayApart(t *testing.T) {
	for name, vision := range visions {
		for i := range palette {
			for j := range i {
				a, b := lab(seen(vision, linear(palette[i]))), lab(seen(vision, linear(palette[j])))
				if apart := math.Hypot(math.Hypot(a[0]-b[0], a[1]-b[1]), a[2]-b[2]); apart < 30 {
					t.Errorf("%s: colours %d and %d are only %.0f apart", name, j, i, apart)
				}
			}
		}
	}
}

// WCAG 2.1, criterion 1.4.11, asks for a contrast of 3:1 for graphics.
func TestColoursStandOutFromTheGround(t *testing.T) {
	for i, c := range palette {
		rgb := linear(c)
		luminance := 0.2126*rgb[0] + 0.7152*rgb[1] + 0.0722*rgb[2]
		if contrast := 1.05 / (luminance + 0.05); contrast < 3 {
			t.Errorf("colour %d has a contrast of %.2f on white", i, contrast)
		}
	}
}

func TestSeriesDifferWithoutColour(t *testing.T) {
	for i := range palette {
		for j := range i {
			if turn(i) == turn(j) {
				t.Errorf("series %d and %d have the same dash and marker", j, i)
			}
		}
	}
	seen := map[[2]int]bool{}
	for i := range 36 {
		look := [2]int{i % len(palette), turn(i)}
		if seen[look] {
			t.Errorf("series %d looks like one before it", i)
		}
		seen[look] = true
	}
}
