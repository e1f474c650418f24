package display

import (
	"encoding/binary"
	"image/png"
	"math"
	"strings"
)

// pictureSize is the metadata by which front ends show a PNG picture at the
// size it says it has, in the 96ths of an inch that pages are laid out in. A
// picture that says nothing has none: it is shown pixel by pixel.
func pictureSize(picture string) map[string]any {
	about, err := png.DecodeConfig(strings.NewReader(picture))
	if err != nil {
		return nil
	}
	across, down, ok := density(picture)
	if !ok {
		return nil
	}
	const perMetre = 96 / 0.0254
	return map[string]any{
		"width":  int(math.Round(float64(about.Width) * perMetre / across)),
		"height": int(math.Round(float64(about.Height) * perMetre / down)),
	}
}

// density reads the pixels per metre of a PNG picture from its chunk pHYs, which
// stands before the pixels.
func density(picture string) (across, down float64, ok bool) {
	for rest := picture[8:]; len(rest) >= 12; {
		size, kind := binary.BigEndian.Uint32([]byte(rest[:4])), rest[4:8]
		if uint64(size)+12 > uint64(len(rest)) || kind == "IDAT" {
			return 0, 0, false
		}
		if body := []byte(rest[8 : 8+size]); kind == "pHYs" && size == 9 && body[8] == 1 {
			across, down = float64(binary.BigEndian.Uint32(body)), float64(binary.BigEndian.Uint32(body[4:]))
			return across, down, across > 0 && down > 0
		}
		rest = rest[12+size:]
	}
	return 0, 0, false
}
