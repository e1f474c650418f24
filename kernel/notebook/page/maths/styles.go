package maths

import (
	"embed"
	"encoding/base64"
	"regexp"
	"strings"
)

//go:embed katex/katex.min.css
var stylesheet string

//go:embed katex/fonts/*.woff2
var fonts embed.FS

// fontClasses says which classes in the HTML call for a font; fonts that are
// not listed belong to every formula.
var fontClasses = map[string][]string{
	"AMS-Regular":         {"amsrm", "mathbb", "textbb"},
	"Caligraphic-Bold":    {"mathcal"},
	"Caligraphic-Regular": {"mathcal"},
	"Fraktur-Bold":        {"mathboldfrak", "textboldfrak"},
	"Fraktur-Regular":     {"mathfrak", "textfrak"},
	"Main-Bold":           {"mathbf", "textbf"},
	"Main-BoldItalic":     {"boldsymbol", "textbf"},
	"Main-Italic":         {"mathit", "textit"},
	"Math-BoldItalic":     {"boldsymbol"},
	"SansSerif-Bold":      {"mathboldsf", "textboldsf", "textsf"},
	"SansSerif-Italic":    {"mathitsf", "mathsfit", "textitsf", "textsf"},
	"SansSerif-Regular":   {"mathsf", "textsf"},
	"Script-Regular":      {"mathscr", "textscr"},
	"Typewriter-Regular":  {"mathtt", "texttt"},
}

var (
	fontFace = regexp.MustCompile(`@font-face\{[^}]*\}`)
	fontFile = regexp.MustCompile(`src:url\(fonts/KaTeX_([A-Za-z0-9-]+)\.woff2\)[^;}]*`)
	class    = regexp.MustCompile(`class="([^"]*)"`)
)

// Styles returns the style sheet for a page that holds html, with the fonts
// that its formulas use written into it; nothing when it has no formula.
func Styles(html string) (string, error) {
	if !strings.Contains(html, `class="katex"`) {
		return "", nil
	}
	used := map[string]bool{}
	for _, match := range class.FindAllStringSubmatch(html, -1) {
		for _, name := range strings.Fields(match[1]) {
			used[name] = true
		}
	}
	var missing error
	styles := fontFace.ReplaceAllStringFunc(stylesheet, func(face string) string {
		file := fontFile.FindStringSubmatch(face)
		if file == nil || !needed(file[1], used) {
			return ""
		}
		content, err := fonts.ReadFile("katex/fonts/KaTeX_" + file[1] + ".woff2")
		if err != nil {
			missing = err
			return ""
		}
		return strings.Replace(face, file[0],
			`src:url(data:font/woff2;base64,`+base64.StdEncoding.EncodeToString(content)+`) format("woff2")`, 1)
	})
	return styles, missing
}

func needed(font string, used map[string]bool) bool {
	classes, listed := fontClasses[font]
	if !listed {
		return true
	}
	for _, name := range classes {
		if used[name] {
			return true
		}
	}
	return false
}
