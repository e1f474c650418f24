package plot

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"html"
	"math"
	"regexp"
	"strings"

	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgpdf"
	"gonum.org/v1/plot/vg/vgsvg"
)

var nan = math.NaN()

// resolution of PNG pictures, in dots per inch: twice what a common screen has.
const resolution = 192

// fallbacks follow the typeface the text was measured with. The first two have
// the same widths, so that nothing moves where it is not installed.
const fallbacks = "'Liberation Sans',Arial,Helvetica,sans-serif"

// SVG is the figure as an SVG document. It refers to nothing outside itself,
// and the same figure gives the same bytes.
func (f *Figure) SVG() []byte {
	canvas := vgsvg.New(f.wide, f.high)
	f.draw(canvas)
	var out bytes.Buffer
	if _, err := canvas.WriteTo(&out); err != nil {
		panic("plot: " + err.Error()) // memory does not refuse a write
	}
	return f.tidy(out.Bytes())
}

// tidy gives the document the fonts to fall back on, a title for readers who
// cannot see the picture, and an id that follows from its content, so that two
// figures in one page do not clash.
func (f *Figure) tidy(svg []byte) []byte {
	text := string(svg)
	if start := strings.Index(text, "<svg"); start > 0 {
		text = text[start:]
	}
	text = strings.ReplaceAll(text, "data:image/jpg;base64", "data:image/png;base64") // what gonum/plot embeds is PNG
	text = strings.ReplaceAll(text, "font-family:Liberation Sans;font-variant:normal", "font-family:"+fallbacks)
	sum := sha256.Sum256([]byte(text))
	id := fmt.Sprintf("figure-%x", sum[:6])
	text = strings.Replace(text, "<svg ", fmt.Sprintf("<svg id=\"%s\" role=\"img\" aria-labelledby=\"%s-title\" ", id, id), 1)
	end := strings.Index(text, ">") + 1
	title := fmt.Sprintf("\n<title id=\"%s-title\">%s</title>", id, html.EscapeString(f.String()))
	return []byte(text[:end] + title + text[end:])
}

// PNG is the figure as a PNG picture at 192 dots per inch, which the picture
// says of itself, so that it is shown at the size of the SVG document.
func (f *Figure) PNG() []byte { return f.png(resolution) }

func (f *Figure) png(dpi int) []byte {
	canvas := vgimg.NewWith(vgimg.UseWH(f.wide, f.high), vgimg.UseDPI(dpi))
	f.draw(canvas)
	var out bytes.Buffer
	if _, err := (vgimg.PngCanvas{Canvas: canvas}).WriteTo(&out); err != nil {
		panic("plot: " + err.Error()) // memory does not refuse a write
	}
	return withResolution(out.Bytes(), dpi)
}

// withResolution puts the chunk pHYs, pixels per metre, behind the first chunk
// (PNG specification, third edition, 11.3.4.3).
func withResolution(picture []byte, dpi int) []byte {
	const header = 8 + 4 + 4 + 13 + 4 // signature, then the chunk IHDR
	density := uint32(math.Round(float64(dpi) / 0.0254))
	chunk := binary.BigEndian.AppendUint32(nil, 9)
	chunk = append(chunk, "pHYs"...)
	chunk = binary.BigEndian.AppendUint32(chunk, density)
	chunk = binary.BigEndian.AppendUint32(chunk, density)
	chunk = append(chunk, 1) // the unit is the metre
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	return append(append(picture[:header:header], chunk...), picture[header:]...)
}

// PDF is the figure as a PDF document of one page of its size, for reports. Its
// texts are shapes: they look the same everywhere, and cannot be selected. The
// same figure gives the same bytes.
func (f *Figure) PDF() []byte {
	canvas := vgpdf.New(f.wide, f.high)
	f.draw(outlined{canvas})
	var out bytes.Buffer
	if _, err := canvas.WriteTo(&out); err != nil {
		panic("plot: " + err.Error()) // memory does not refuse a write
	}
	return pdfDates.ReplaceAll(out.Bytes(), []byte("Date (D:20000101000000"))
}

// pdfDates are the times at which a PDF document was made. They are replaced
// by a fixed one of the same length, as a document counts its bytes.
var pdfDates = regexp.MustCompile(`Date \(D:[0-9]{14}`)
