package plot

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
)

// printResolution is that of PNG files for print, in dots per inch.
const printResolution = 300

// Save writes the figure into a file, at its size, in the form that the name
// ends with: .svg, .pdf, or .png at 300 dots per inch. A folder that is not there
// is not made.
//
// Errors: another ending; a file that cannot be written.
func (f *Figure) Save(path string) error {
	var picture []byte
	switch ending := strings.ToLower(filepath.Ext(path)); ending {
	case ".svg":
		picture = f.SVG()
	case ".pdf":
		picture = f.PDF()
	case ".png":
		picture = f.png(printResolution)
	default:
		return fmt.Errorf("plot: a figure is saved as .svg, .pdf or .png, not as %q", ending)
	}
	return write(path, picture)
}

// SaveFrame writes the figure into a PNG file of so many dots, such as 1920 by
// 1080 for a video or a slide. Letters are as large beside the picture as they
// are in a figure of 4 inches in height, and smaller where the frame has not the
// room for them.
//
// Errors: a name that does not end with .png; a frame below 200 or above 8000
// dots in one direction, or more than five times as long as wide; a file that
// cannot be written.
func (f *Figure) SaveFrame(path string, wide, high int) error {
	if strings.ToLower(filepath.Ext(path)) != ".png" {
		return fmt.Errorf("plot: a frame is saved as .png, not as %q", filepath.Ext(path))
	}
	if min(wide, high) < 200 || max(wide, high) > 8000 || max(wide, high) > 5*min(wide, high) {
		return fmt.Errorf("plot: a frame cannot be %d by %d dots; each side lies between 200 and 8000, and the longer is at most five times the shorter", wide, high)
	}
	resolution := max(1, int(float64(high)/float64(height/vg.Inch)+0.5))
	inDots := func(n int) vg.Length { return vg.Length(n) * vg.Inch / vg.Length(resolution) }
	for resolution > 20 && !f.roomy(inDots(wide), inDots(high)) {
		resolution -= max(1, resolution/20)
	}
	canvas := vgimg.NewWith(vgimg.UseImage(image.NewRGBA(image.Rect(0, 0, wide, high))), vgimg.UseDPI(resolution))
	f.draw(canvas)
	var out bytes.Buffer
	if err := png.Encode(&out, canvas.Image()); err != nil {
		return fmt.Errorf("plot: %w", err)
	}
	return write(path, out.Bytes())
}

func write(path string, picture []byte) error {
	if err := os.WriteFile(path, picture, 0o644); err != nil {
		return fmt.Errorf("plot: %w", err)
	}
	return nil
}
