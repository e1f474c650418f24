package plot

import (
	"errors"
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// panelHigh is the height of a row of panels unless Size says otherwise.
const panelHigh = 2.9 * vg.Inch

// Panels puts figures side by side, so many in a row, lettered (a), (b), … in
// their order. A title may stand above them all. The rows share the height in
// equal parts; a figure keeps nothing of its own size.
//
// Errors: no figure; fewer than one in a row.
func Panels(title string, inRow int, figures ...*Figure) (*Figure, error) {
	if len(figures) == 0 {
		return nil, errors.New("plot: panels need figures")
	}
	if inRow < 1 {
		return nil, fmt.Errorf("plot: %d panels in a row is none", inRow)
	}
	for i, f := range figures {
		if f == nil {
			return nil, fmt.Errorf("plot: panel %s is no figure", letter(i))
		}
	}
	inRow = min(inRow, len(figures))
	rows := (len(figures) + inRow - 1) / inRow
	wide := max(width, vg.Length(inRow)*2.5*vg.Inch)
	return newFigure(&panels{title, inRow, rows, figures}, wide, vg.Length(rows)*panelHigh), nil
}

type panels struct {
	title       string
	inRow, rows int
	figures     []*Figure
}

func letter(i int) string {
	if i < 26 {
		return "(" + string(rune('a'+i)) + ")"
	}
	return fmt.Sprintf("(%d)", i+1)
}

func (p *panels) draw(c draw.Canvas) {
	style := textStyle(labelSize)
	line := style.FontExtents()
	for i, part := range p.parts(c) {
		c.FillText(style, vg.Point{X: part.Min.X, Y: part.Max.Y - line.Ascent}, letter(i))
		p.figures[i].content.draw(besideLetter(part, i))
	}
}

func (p *panels) roomy(c draw.Canvas) bool {
	for i, part := range p.parts(c) {
		if !p.figures[i].content.roomy(besideLetter(part, i)) {
			return false
		}
	}
	return true
}

// parts are the places of the panels, below the title.
func (p *panels) parts(c draw.Canvas) []draw.Canvas {
	const gap = 12
	c = drawTitle(c, p.title)
	size := c.Size()
	wide := (size.X - gap*vg.Length(p.inRow-1)) / vg.Length(p.inRow)
	high := (size.Y - gap*vg.Length(p.rows-1)) / vg.Length(p.rows)
	var out []draw.Canvas
	for i := range p.figures {
		left := c.Min.X + vg.Length(i%p.inRow)*(wide+gap)
		top := c.Max.Y - vg.Length(i/p.inRow)*(high+gap)
		part := c
		part.Rectangle = vg.Rectangle{Min: vg.Point{X: left, Y: top - high}, Max: vg.Point{X: left + wide, Y: top}}
		out = append(out, part)
	}
	return out
}

// besideLetter is the place of a panel without that of its letter.
func besideLetter(part draw.Canvas, i int) draw.Canvas {
	return draw.Crop(part, textStyle(labelSize).Width(letter(i))+5, 0, 0, 0)
}

func (p *panels) describe() string {
	var out strings.Builder
	out.WriteString("panels")
	if p.title != "" {
		fmt.Fprintf(&out, " %q", p.title)
	}
	for i, f := range p.figures {
		fmt.Fprintf(&out, "; %s %s", letter(i), f)
	}
	return out.String()
}
