package page

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html"
	"strings"

	"cobber/kernel/notebook"
)

func (b *builder) output(o *notebook.Output) {
	switch o.Kind {
	case notebook.Stream:
		b.stream(o)
	case notebook.Display, notebook.Result:
		if shown := b.bundle(o); shown != "" {
			fmt.Fprintf(&b.body, "<div class=\"output\">\n%s\n</div>\n", shown)
		}
	case notebook.Failure:
		b.failure(o)
	}
}

func (b *builder) stream(o *notebook.Output) {
	text := strings.TrimSuffix(overwrite(o.Text), "\n")
	if text == "" {
		return
	}
	if o.Name == "stderr" {
		fmt.Fprintf(&b.body, "<div class=\"output aside\"><span class=\"label\">stderr</span><pre>%s</pre></div>\n", terminalText(text))
		return
	}
	fmt.Fprintf(&b.body, "<div class=\"output\"><pre>%s</pre></div>\n", terminalText(text))
}

func (b *builder) failure(o *notebook.Output) {
	text := strings.Join(o.Traceback, "\n")
	if strings.TrimSpace(text) == "" {
		text = strings.Trim(o.ErrorName+": "+o.ErrorValue, ": ")
	}
	fmt.Fprintf(&b.body, "<div class=\"output failure\"><span class=\"label\">error</span><pre>%s</pre></div>\n", terminalText(strings.TrimRight(text, "\n")))
}

// A medium shows the content of one media type; it reports false when it
// cannot, and a plainer medium is tried.
type medium struct {
	media string
	show  func(b *builder, o *notebook.Output, content any) (string, bool)
}

// preferred lists the media from the one that says most to the one that always
// works, in the order in which JupyterLab prefers them.
var preferred = []medium{
	{"text/html", (*builder).htmlMedium},
	{"text/markdown", (*builder).markdownMedium},
	{"text/latex", (*builder).latexMedium},
	{"image/svg+xml", (*builder).svgMedium},
	{"image/png", imageMedium("image/png")},
	{"image/jpeg", imageMedium("image/jpeg")},
	{"image/webp", imageMedium("image/webp")},
	{"image/gif", imageMedium("image/gif")},
	{"text/plain", (*builder).plainMedium},
	{"application/json", (*builder).jsonMedium},
}

func (b *builder) bundle(o *notebook.Output) string {
	for _, medium := range preferred {
		content, ok := o.Data[medium.media]
		if !ok {
			continue
		}
		if shown, ok := medium.show(b, o, content); ok {
			return shown
		}
	}
	if len(o.Data) > 0 {
		b.warn("an output has no media type that a page can show")
	}
	return ""
}

func (b *builder) htmlMedium(o *notebook.Output, content any) (string, bool) {
	text, ok := content.(string)
	if !ok {
		return "", false
	}
	return `<div class="html">` + b.pictures(text, nil) + `</div>`, true
}

func (b *builder) markdownMedium(o *notebook.Output, content any) (string, bool) {
	text, ok := content.(string)
	if !ok {
		return "", false
	}
	return `<div class="text">` + b.markdown(text, nil) + `</div>`, true
}

func (b *builder) latexMedium(o *notebook.Output, content any) (string, bool) {
	text, ok := content.(string)
	if !ok {
		return "", false
	}
	shown, ok := b.latex(text)
	if ok {
		return `<div class="formula">` + shown + `</div>`, true
	}
	if _, plainer := o.Data["text/plain"]; !plainer {
		return "<pre>" + html.EscapeString(text) + "</pre>", true
	}
	return "", false
}

// svgMedium shows a drawing as a picture: nothing in it can run, and its style
// cannot reach the page's.
func (b *builder) svgMedium(o *notebook.Output, content any) (string, bool) {
	text, ok := content.(string)
	if !ok || !strings.Contains(text, "<svg") {
		return "", false
	}
	return b.drawn(o, "image/svg+xml", base64.StdEncoding.EncodeToString([]byte(text))), true
}

func imageMedium(media string) func(*builder, *notebook.Output, any) (string, bool) {
	return func(b *builder, o *notebook.Output, content any) (string, bool) {
		text, ok := content.(string)
		if !ok || strings.TrimSpace(text) == "" {
			return "", false
		}
		return b.drawn(o, media, text), true
	}
}

func (b *builder) drawn(o *notebook.Output, media, content string) string {
	alt, _ := o.Data["text/plain"].(string)
	if c := b.captions[o]; strings.TrimSpace(alt) == "" && c != nil {
		alt = c.text
	}
	alt = orElse(strings.TrimSpace(alt), "a picture that its author has not described")
	var size, class string
	for _, about := range []string{media, "image/png"} {
		metadata, ok := o.Metadata[about].(map[string]any)
		if !ok {
			continue
		}
		for _, side := range []string{"width", "height"} {
			if value, ok := metadata[side]; ok {
				size += fmt.Sprintf(` %s="%s"`, side, html.EscapeString(fmt.Sprint(value)))
			}
		}
		break
	}
	if o.Metadata["needs_background"] == "light" {
		class = ` class="paper"`
	}
	return fmt.Sprintf(`<div class="picture"><img%s src="%s" alt="%s"%s></div>`, class,
		html.EscapeString(dataAddress(media, content)), html.EscapeString(shortenTo(alt, 300)), size)
}

func (b *builder) plainMedium(o *notebook.Output, content any) (string, bool) {
	text, ok := content.(string)
	return "<pre>" + terminalText(strings.TrimRight(text, "\n")) + "</pre>", ok
}

func (b *builder) jsonMedium(o *notebook.Output, content any) (string, bool) {
	text, err := json.MarshalIndent(content, "", "  ")
	return "<pre>" + html.EscapeString(string(text)) + "</pre>", err == nil
}
