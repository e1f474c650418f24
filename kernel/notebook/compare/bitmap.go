package compare

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image"
	_ "image/gif" // Decode knows the formats that are named here
	_ "image/jpeg"
	_ "image/png"
	"strings"
)

// bitmaps compares two pictures by what they show.
func bitmaps(old, new string) string {
	a, err := decoded(old)
	if err != nil {
		return "the saved picture cannot be read: " + err.Error()
	}
	b, err := decoded(new)
	if err != nil {
		return "the new picture cannot be read: " + err.Error()
	}
	size, newSize := a.Bounds().Size(), b.Bounds().Size()
	if size != newSize {
		return fmt.Sprintf("a picture of %d × %d pixels was saved, and now it has %d × %d", size.X, size.Y, newSize.X, newSize.Y)
	}
	changed := 0
	for y := range size.Y {
		for x := range size.X {
			if !samePixel(a, b, x, y) {
				changed++
			}
		}
	}
	if changed == 0 {
		return ""
	}
	return fmt.Sprintf("%d of %d pixels differ", changed, size.X*size.Y)
}

func samePixel(a, b image.Image, x, y int) bool {
	r1, g1, b1, a1 := a.At(a.Bounds().Min.X+x, a.Bounds().Min.Y+y).RGBA()
	r2, g2, b2, a2 := b.At(b.Bounds().Min.X+x, b.Bounds().Min.Y+y).RGBA()
	return r1 == r2 && g1 == g2 && b1 == b2 && a1 == a2
}

func decoded(text string) (image.Image, error) {
	data, err := base64.StdEncoding.DecodeString(strings.Join(strings.Fields(text), ""))
	if err != nil {
		return nil, err
	}
	picture, _, err := image.Decode(bytes.NewReader(data))
	return picture, err
}
