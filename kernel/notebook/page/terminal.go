package page

import (
	"fmt"
	"html"
	"regexp"
	"strconv"
	"strings"
)

var escapeSequence = regexp.MustCompile("\x1b(?:\\[([0-9;:?]*)([@-~])|\\][^\x07\x1b]*(?:\x07|\x1b\\\\)|[@-Z\\\\^_])")

// terminalText returns text for a terminal as HTML: colours and weights become
// classes, other commands to a terminal are dropped.
func terminalText(text string) string {
	var b strings.Builder
	var look look
	last := 0
	for _, match := range escapeSequence.FindAllStringSubmatchIndex(text, -1) {
		look.write(&b, text[last:match[0]])
		last = match[1]
		if match[4] >= 0 && text[match[4]:match[5]] == "m" {
			look.change(text[match[2]:match[3]])
		}
	}
	look.write(&b, text[last:])
	return b.String()
}

// look is how a terminal shows text at some point.
type look struct {
	bold, faint, italic, underline, inverse bool
	front, back                             string // "" or a class suffix such as "1", "9", or "#rrggbb"
}

func (l *look) write(b *strings.Builder, text string) {
	if text == "" {
		return
	}
	text = html.EscapeString(text)
	var classes, style []string
	for _, mark := range []struct {
		on   bool
		name string
	}{{l.bold, "t-bold"}, {l.faint, "t-faint"}, {l.italic, "t-italic"}, {l.underline, "t-underline"}, {l.inverse, "t-inverse"}} {
		if mark.on {
			classes = append(classes, mark.name)
		}
	}
	for _, colour := range []struct{ value, class, property string }{{l.front, "t-fg", "color"}, {l.back, "t-bg", "background-color"}} {
		switch {
		case strings.HasPrefix(colour.value, "#"):
			style = append(style, colour.property+":"+colour.value)
		case colour.value != "":
			classes = append(classes, colour.class+colour.value)
		}
	}
	if len(classes)+len(style) == 0 {
		b.WriteString(text)
		return
	}
	b.WriteString("<span")
	if len(classes) > 0 {
		fmt.Fprintf(b, ` class="%s"`, strings.Join(classes, " "))
	}
	if len(style) > 0 {
		fmt.Fprintf(b, ` style="%s"`, strings.Join(style, ";"))
	}
	b.WriteString(">" + text + "</span>")
}

// change carries out one command of colour and weight (ECMA-48, SGR).
func (l *look) change(parameters string) {
	codes := strings.FieldsFunc(parameters, func(r rune) bool { return r == ';' || r == ':' })
	if len(codes) == 0 {
		codes = []string{"0"}
	}
	for len(codes) > 0 {
		code, _ := strconv.Atoi(codes[0])
		codes = codes[1:]
		switch {
		case code == 0:
			*l = look{}
		case code == 1:
			l.bold = true
		case code == 2:
			l.faint = true
		case code == 3:
			l.italic = true
		case code == 4:
			l.underline = true
		case code == 7:
			l.inverse = true
		case code == 22:
			l.bold, l.faint = false, false
		case code == 23:
			l.italic = false
		case code == 24:
			l.underline = false
		case code == 27:
			l.inverse = false
		case code == 38:
			l.front, codes = extendedColour(codes)
		case code == 48:
			l.back, codes = extendedColour(codes)
		case code == 39:
			l.front = ""
		case code == 49:
			l.back = ""
		case code >= 30 && code <= 37:
			l.front = strconv.Itoa(code - 30)
		case code >= 90 && code <= 97:
			l.front = strconv.Itoa(code - 90)
		case code >= 40 && code <= 47:
			l.back = strconv.Itoa(code - 40)
		case code >= 100 && code <= 107:
			l.back = strconv.Itoa(code - 100)
		}
	}
}

// extendedColour reads what follows code 38 or 48: 5 and one of 256 colours, or
// 2 and red, green, blue.
func extendedColour(codes []string) (colour string, rest []string) {
	number := func(i int) int {
		n, _ := strconv.Atoi(codes[i])
		return min(max(n, 0), 255)
	}
	switch {
	case len(codes) >= 2 && codes[0] == "5":
		return paletteColour(number(1)), codes[2:]
	case len(codes) >= 4 && codes[0] == "2":
		return fmt.Sprintf("#%02x%02x%02x", number(1), number(2), number(3)), codes[4:]
	}
	return "", nil
}

// paletteColour is the usual table of 256: 16 named, a cube of 6×6×6, 24 greys.
func paletteColour(n int) string {
	switch {
	case n < 16:
		return strconv.Itoa(n % 8)
	case n < 232:
		level := func(i int) int {
			if i == 0 {
				return 0
			}
			return 55 + 40*i
		}
		n -= 16
		return fmt.Sprintf("#%02x%02x%02x", level(n/36), level(n/6%6), level(n%6))
	}
	grey := 8 + 10*(n-232)
	return fmt.Sprintf("#%02x%02x%02x", grey, grey, grey)
}

// overwrite carries out carriage returns and backspaces, so that a progress
// line shows its last state only.
func overwrite(text string) string {
	text = strings.ReplaceAll(text, "\r\n", "\n")
	if !strings.ContainsAny(text, "\r\b") {
		return text
	}
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		var shown []rune
		at := 0
		for _, r := range line {
			switch r {
			case '\r':
				at = 0
			case '\b':
				at = max(at-1, 0)
			default:
				if at < len(shown) {
					shown[at] = r
				} else {
					shown = append(shown, r)
				}
				at++
			}
		}
		lines[i] = string(shown)
	}
	return strings.Join(lines, "\n")
}
