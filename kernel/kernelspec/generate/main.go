// Command generate draws the logo of the kernel: one rock, broken in two, the
// two parts of different worth. The drawing is our own. Run it with
// go generate in the folder kernelspec.
package main

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"log"
	"os"
	"path/filepath"
	"strings"

	"golang.org/x/image/vector"
)

// grid is the side of the square that the shapes are drawn in.
const grid = 64

type point struct{ x, y float32 }

type shape struct {
	colour color.RGBA
	points []point
}

// rock is the logo. Grey and orange differ for every kind of colour vision,
// and stand out on white and on black.
var rock = []shape{
	{color.RGBA{0x7a, 0x87, 0x94, 0xff}, []point{
		{9, 19}, {22, 6}, {33, 8}, {28, 23}, {36, 33}, {27, 46}, {31, 58}, {17, 56}, {4, 41},
	}},
	{color.RGBA{0xe6, 0x9f, 0x00, 0xff}, []point{
		{39, 9}, {52, 14}, {61, 31}, {55, 49}, {38, 58}, {34, 46}, {43, 33}, {35, 23},
	}},
}

func main() {
	for name, content := range files() {
		if err := os.WriteFile(filepath.Join("logo", name), content, 0o644); err != nil {
			log.Fatal(err)
		}
	}
}

// files gives the logo under the names that Jupyter knows.
func files() map[string][]byte {
	return map[string][]byte{
		"logo-svg.svg":   []byte(drawSVG()),
		"logo-32x32.png": encode(draw(32)),
		"logo-64x64.png": encode(draw(64)),
	}
}

func drawSVG() string {
	var b strings.Builder
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %d\" width=\"%d\" height=\"%d\">\n", grid, grid, grid, grid)
	for _, s := range rock {
		places := make([]string, len(s.points))
		for i, p := range s.points {
			places[i] = fmt.Sprintf("%g,%g", p.x, p.y)
		}
		fmt.Fprintf(&b, "<polygon fill=\"#%02x%02x%02x\" points=\"%s\"/>\n", s.colour.R, s.colour.G, s.colour.B, strings.Join(places, " "))
	}
	b.WriteString("</svg>\n")
	return b.String()
}

func draw(side int) *image.RGBA {
	picture := image.NewRGBA(image.Rect(0, 0, side, side))
	scale := float32(side) / grid
	for _, s := range rock {
		raster := vector.NewRasterizer(side, side)
		for i, p := range s.points {
			if i == 0 {
				raster.MoveTo(p.x*scale, p.y*scale)
			} else {
				raster.LineTo(p.x*scale, p.y*scale)
			}
		}
		raster.ClosePath()
		raster.Draw(picture, picture.Bounds(), image.NewUniform(s.colour), image.Point{})
	}
	return picture
}

func encode(picture image.Image) []byte {
	var out bytes.Buffer
	if err := png.Encode(&out, picture); err != nil {
		log.Fatal(err)
	}
	return out.Bytes()
}
