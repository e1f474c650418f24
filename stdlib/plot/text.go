package plot

import (
	"strings"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Sizes of letters, in points.
const (
	titleSize = 11 * vg.Length(1)
	labelSize = 10 * vg.Length(1)
	tickSize  = 9 * vg.Length(1)
)

var typeface = font.Font{Typeface: "Liberation", Variant: "Sans"}

func textStyle(size vg.Length) text.Style {
	return text.Style{Color: ink, Font: font.From(typeface, size), Handler: plot.DefaultTextHandler}
}

// drawTitle writes a title along the top and gives back the room below it.
func drawTitle(c draw.Canvas, title string) draw.Canvas {
	if title == "" {
		return c
	}
	style := textStyle(titleSize)
	style.Font.Weight = xfont.WeightBold
	line := style.FontExtents()
	y := c.Max.Y
	for _, text := range wrap(style, title, c.Max.X-c.Min.X) {
		c.FillText(style, vg.Point{X: c.Min.X, Y: y - line.Ascent}, text)
		y -= line.Height
	}
	return draw.Crop(c, 0, 0, 0, y-4-c.Max.Y)
}

// wrap breaks a text into lines that are no wider than room; a word wider than
// that is cut.
func wrap(style text.Style, words string, room vg.Length) []string {
	var lines []string
	current := ""
	for _, word := range strings.Fields(words) {
		word = cut(style, word, room)
		longer := strings.TrimSpace(current + " " + word)
		if current != "" && style.Width(longer) > room {
			lines = append(lines, current)
			longer = word
		}
		current = longer
	}
	return append(lines, current)
}

// cut ends a text that is wider than room with an ellipsis.
func cut(style text.Style, words string, room vg.Length) string {
	if style.Width(words) <= room {
		return words
	}
	letters := []rune(words)
	for len(letters) > 0 && style.Width(string(letters)+"…") > room {
		letters = letters[:len(letters)-1]
	}
	return string(letters) + "…"
}
