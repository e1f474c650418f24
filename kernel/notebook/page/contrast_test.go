package page

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
)

// Text must be legible on every ground it stands on, in light, in the dark and
// on paper: a contrast of 4.5 to 1 at least, by the formula and the limit of
// WCAG 2.1, success criterion 1.4.3.
func TestContrast(t *testing.T) {
	blocks := regexp.MustCompile(`(?s):root \{(.*?)\}`).FindAllStringSubmatch(stylesheet, -1)
	if len(blocks) != 3 {
		t.Fatalf("%d sets of colours in the style sheet, want three: light, dark, print", len(blocks))
	}
	light := colours(blocks[0][1])
	for i, name := range []string{"light", "dark", "print"} {
		set := map[string]string{}
		for _, values := range []map[string]string{light, colours(blocks[i][1])} {
			for key, value := range values {
				set[key] = value
			}
		}
		for _, front := range []string{"ink", "quiet", "link", "keyword", "type", "number", "string", "comment", "fault", "t1", "t2", "t3", "t4", "t5", "t6", "t7"} {
			for _, back := range []string{"paper", "code", "faulty"} {
				if got := contrast(t, set[front], set[back]); got < 4.5 {
					t.Errorf("%s: %s on %s has a contrast of %.2f", name, front, back, got)
				}
			}
		}
	}
}

func colours(block string) map[string]string {
	found := map[string]string{}
	for _, match := range regexp.MustCompile(`--([a-z0-9]+): (#[0-9a-f]{3,6});`).FindAllStringSubmatch(block, -1) {
		value := match[2]
		if len(value) == 4 {
			value = "#" + strings.Repeat(value[1:2], 2) + strings.Repeat(value[2:3], 2) + strings.Repeat(value[3:4], 2)
		}
		found[match[1]] = value
	}
	return found
}

func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	x, y := luminance(t, a), luminance(t, b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

func luminance(t *testing.T, colour string) float64 {
	t.Helper()
	var r, g, b int
	if _, err := fmt.Sscanf(colour, "#%02x%02x%02x", &r, &g, &b); err != nil {
		t.Fatalf("colour %q: %v", colour, err)
	}
	linear := func(c int) float64 {
		v := float64(c) / 255
		if v <= 0.03928 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(r) + 0.7152*linear(g) + 0.0722*linear(b)
}
