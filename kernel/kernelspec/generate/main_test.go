package main

import (
	"bytes"
	"image/png"
	"os"
	"path/filepath"
	"testing"
)

func TestLogoIsAsDrawn(t *testing.T) {
	for name := range files() {
		kept, err := os.ReadFile(filepath.Join("..", "logo", name))
		if err != nil {
			t.Fatal(err)
		}
		if filepath.Ext(name) == ".svg" {
			if string(kept) != drawSVG() {
				t.Errorf("%s is stale: run go generate ./kernel/kernelspec", name)
			}
			continue
		}
		// Pixels, not bytes: Go's compression may change between releases.
		picture, err := png.Decode(bytes.NewReader(kept))
		if err != nil {
			t.Fatal(err)
		}
		drawn := draw(picture.Bounds().Dx())
		for y := range picture.Bounds().Dy() {
			for x := range picture.Bounds().Dx() {
				r, g, b, a := picture.At(x, y).RGBA()
				R, G, B, A := drawn.At(x, y).RGBA()
				// PNG keeps colours not multiplied by alpha, so they are rounded.
				if differs(r, R) || differs(g, G) || differs(b, B) || differs(a, A) {
					t.Fatalf("%s is stale at %d, %d: run go generate ./kernel/kernelspec", name, x, y)
				}
			}
		}
	}
}

func differs(a, b uint32) bool { return max(a, b)-min(a, b) > 0x300 }
