package display

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/png"
	"reflect"
	"strings"
)

// Media types of a bundle.
const (
	textPlain    = "text/plain"
	textHTML     = "text/html"
	textMarkdown = "text/markdown"
	textLaTeX    = "text/latex"
	imageSVG     = "image/svg+xml"
	imagePNG     = "image/png"
	pdf          = "application/pdf"
)

// Bundle gives the forms in which a value can be shown, by media type, with
// metadata by media type. text/plain is always among them. For nil, which is
// nothing to show, data is nil.
func Bundle(value any) (data map[string]any, metadata map[string]any) {
	if isNil(value) {
		return nil, nil
	}
	data, metadata = map[string]any{}, map[string]any{}
	var faults []string
	for _, form := range forms {
		content, fault := form.show(value)
		if fault != "" {
			faults = append(faults, fault)
		}
		if content == "" {
			continue
		}
		data[form.media] = form.finish(content)
		if form.media == imagePNG {
			if size := pictureSize(content); size != nil {
				metadata[imagePNG] = size
			}
		}
	}
	if picture, ok := value.(image.Image); ok && data[imagePNG] == nil {
		if text := encodePNG(picture); text != "" {
			data[imagePNG] = text
			data[textPlain] = describeImage(picture)
		}
	}
	if data[textPlain] == nil {
		data[textPlain] = Text(value)
	}
	if len(faults) > 0 {
		data[textPlain] = data[textPlain].(string) + "\n" + strings.Join(faults, "\n")
	}
	return data, metadata
}

// Bundles gives one bundle for the several results of a call. A nil among them,
// such as an error that did not happen, is left out. With more than one result
// left there is only text: side by side if each is one line, else one below
// the other.
func Bundles(values ...any) (data map[string]any, metadata map[string]any) {
	var shown []any
	for _, value := range values {
		if !isNil(value) {
			shown = append(shown, value)
		}
	}
	switch len(shown) {
	case 0:
		return nil, nil
	case 1:
		return Bundle(shown[0])
	}
	texts := make([]string, len(shown))
	separator := ", "
	for i, value := range shown {
		texts[i] = Text(value)
		if strings.Contains(texts[i], "\n") {
			separator = "\n"
		}
	}
	return map[string]any{textPlain: strings.Join(texts, separator)}, map[string]any{}
}

// isNil says whether there is nothing to show. A typed nil pointer, map, slice
// or function is something: it is shown as such.
func isNil(value any) bool { return value == nil }

// form is one way to show a value: a method and what it makes.
type form struct {
	method, media string
	finish        func(string) string
}

var forms = []form{
	{"HTML", textHTML, asText},
	{"Markdown", textMarkdown, asText},
	{"LaTeX", textLaTeX, asMathematics},
	{"SVG", imageSVG, asText},
	{"PNG", imagePNG, asBase64},
	{"PDF", pdf, asBase64},
}

// show calls the form's method if the value has it.
func (f form) show(value any) (content, fault string) {
	method, ok := methodOf(value, f.method)
	if !ok {
		return "", ""
	}
	content, fault = method.call(f.method)
	if fault != "" {
		return "", fault
	}
	return content, ""
}

func asText(content string) string { return strings.ToValidUTF8(content, "\ufffd") }

func asBase64(content string) string { return base64.StdEncoding.EncodeToString([]byte(content)) }

// asMathematics puts bare mathematics between dollars: front ends typeset
// text/latex as it is, and would show the commands. Text that brings its own
// dollars or environments stays.
func asMathematics(content string) string {
	content = asText(content)
	for _, mark := range []string{"$", `\(`, `\[`, `\begin{`} {
		if strings.Contains(content, mark) {
			return content
		}
	}
	return "$" + strings.TrimSpace(content) + "$"
}

func encodePNG(picture image.Image) string {
	defer func() { recover() }() // a typed nil picture has no bounds
	var out bytes.Buffer
	if png.Encode(&out, picture) != nil {
		return ""
	}
	return asBase64(out.String())
}

func describeImage(picture image.Image) string {
	bounds := picture.Bounds()
	return reflect.TypeOf(picture).String() + " of " + Text(bounds.Dx()) + " × " + Text(bounds.Dy()) + " pixels"
}
