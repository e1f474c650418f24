package page

import (
	"encoding/base64"
	"fmt"
	"path"
	"regexp"
	"strings"

	"cobber/kernel/notebook"
)

// Markdown returns the notebook as Markdown for other programs to set, and the
// pictures that it names, by their paths: below folder, from where the text
// lies. Captions, references and sources are numbered as on the page.
func Markdown(nb *notebook.Notebook, o Options, folder string) (text []byte, files map[string][]byte, warnings []string) {
	w := &writer{builder: prepare(nb, o), folder: folder, files: map[string][]byte{}}
	w.front()
	for i := range nb.Cells {
		w.current = i
		w.cell(&nb.Cells[i])
	}
	for _, line := range o.Made {
		w.body.WriteString("*" + line + "*\n\n")
	}
	all := w.body.String()
	if strings.Contains(all, sourcesPlace) {
		all = strings.Replace(all, sourcesPlace, w.list(), 1)
		all = strings.ReplaceAll(all, sourcesPlace, "")
	}
	return []byte(strings.TrimSpace(all) + "\n"), w.files, w.warnings
}

// A writer writes a notebook as Markdown.
type writer struct {
	*builder
	folder string
	files  map[string][]byte
	shown  int // pictures of the current cell
}

// front writes what the notebook says of itself as most programs that set
// Markdown read it.
func (w *writer) front() {
	a := &w.about
	if a.title == "" && len(a.authors) == 0 && a.date == "" && a.abstract == "" {
		return
	}
	w.body.WriteString("---\n")
	w.key("title", a.title)
	if len(a.authors) > 0 {
		w.body.WriteString("author:\n")
		for _, name := range a.authors {
			fmt.Fprintf(&w.body, "  - %q\n", name)
		}
	}
	w.key("date", a.date)
	w.key("abstract", a.abstract)
	w.key("lang", a.language)
	w.body.WriteString("---\n\n")
}

func (w *writer) key(name, value string) {
	if value != "" {
		fmt.Fprintf(&w.body, "%s: %q\n", name, value)
	}
}

func (w *writer) cell(c *notebook.Cell) {
	w.shown = 0
	switch {
	case tagged(c, "remove-cell"):
	case c.Kind == notebook.Markdown:
		w.paragraph(w.prose(w.texts[w.current], c.Attachments))
	case c.Kind == notebook.Raw:
		format, _ := c.Metadata["format"].(string)
		if (format == "text/markdown" || format == "") && (w.current > 0 || !w.about.hasLines) {
			w.paragraph(c.Source)
		}
	case c.Kind == notebook.Code:
		w.code(c)
	}
}

func (w *writer) paragraph(text string) {
	if text = strings.Trim(text, "\n"); text != "" {
		w.body.WriteString(text + "\n\n")
	}
}

func (w *writer) code(c *notebook.Cell) {
	_, source := withoutCaptions(c.Source)
	hidden := tagged(c, "remove-input") || flagged(c, "source_hidden") || w.about.code == "hide"
	if source = strings.Trim(source, "\n"); source != "" && !hidden {
		w.paragraph(fenced(w.language(), source))
	}
	w.paragraph(inputList(c))
	if tagged(c, "remove-output") || flagged(c, "outputs_hidden") {
		return
	}
	for i := range c.Outputs {
		w.output(&c.Outputs[i])
	}
}

// fenced puts a fence around a text that is longer than any within it.
func fenced(language, text string) string {
	marks := "```"
	for strings.Contains(text, marks) {
		marks += "`"
	}
	return marks + language + "\n" + strings.TrimRight(text, "\n") + "\n" + marks
}

func (w *writer) output(o *notebook.Output) {
	caption, label := w.builder.captions[o], ""
	if caption != nil {
		label = fmt.Sprintf("**%s.** %s", caption.label(), w.prose(caption.text, nil))
		fmt.Fprintf(&w.body, "<a id=\"%s\"></a>\n\n", caption.anchor())
		if caption.kind == "table" {
			w.paragraph(label)
		}
	}
	switch o.Kind {
	case notebook.Stream:
		w.paragraph(fenced("text", plainText(overwrite(o.Text))))
	case notebook.Failure:
		w.paragraph(fenced("text", plainText(strings.Join(o.Traceback, "\n"))))
	default:
		w.bundle(o)
	}
	if caption != nil && caption.kind == "figure" {
		w.paragraph(label)
	}
}

var terminalCommand = regexp.MustCompile(`\x1b\[[0-9;?]*[A-Za-z]`)

func plainText(text string) string { return terminalCommand.ReplaceAllString(text, "") }

// bundle writes the form that says most in Markdown.
func (w *writer) bundle(o *notebook.Output) {
	text := func(media string) string {
		content, _ := o.Data[media].(string)
		return strings.TrimSpace(content)
	}
	switch {
	case text("text/markdown") != "":
		w.paragraph(text("text/markdown"))
	case w.drawing(o):
	case strings.HasPrefix(text("text/latex"), "$"):
		w.paragraph(text("text/latex"))
	case text("text/plain") != "":
		w.paragraph(fenced("text", plainText(text("text/plain"))))
	case text("text/html") != "":
		w.paragraph(text("text/html"))
	}
}

// drawing writes the picture of an output to a file: a bitmap before a drawing,
// for more programs set it.
func (w *writer) drawing(o *notebook.Output) bool {
	for _, media := range [][2]string{{"image/png", ".png"}, {"image/jpeg", ".jpg"}, {"image/svg+xml", ".svg"}} {
		content, ok := o.Data[media[0]].(string)
		if !ok || content == "" {
			continue
		}
		data := []byte(content)
		if media[0] != "image/svg+xml" {
			decoded, err := base64.StdEncoding.DecodeString(strings.Join(strings.Fields(content), ""))
			if err != nil {
				w.warn("a picture is left out: %v", err)
				continue
			}
			data = decoded
		}
		w.shown++
		words, _ := o.Data["text/plain"].(string)
		if caption := w.builder.captions[o]; caption != nil && strings.TrimSpace(words) == "" {
			words = caption.text
		}
		w.paragraph(w.file(fmt.Sprintf("cell-%d-%d%s", w.current+1, w.shown, media[1]), shortenTo(words, 300), data))
		return true
	}
	return false
}

func (w *writer) file(name, words string, data []byte) string {
	where := path.Join(w.folder, name)
	w.files[where] = data
	return fmt.Sprintf("![%s](%s)", strings.NewReplacer("[", "(", "]", ")").Replace(words), strings.ReplaceAll(where, " ", "%20"))
}

var (
	referenceMark = regexp.MustCompile(`\[([^\]\[]*)\]\(#([^)\s]+)\)`)
	pictureMark   = regexp.MustCompile(`!\[([^\]]*)\]\(([^)\s]+)\)`)
)

// prose gives text the numbers of what it refers to, and pictures their files,
// outside code.
func (w *writer) prose(text string, attachments map[string]any) string {
	var out strings.Builder
	at := 0
	for _, span := range append(codeSpan.FindAllStringIndex(text, -1), []int{len(text), len(text)}) {
		out.WriteString(w.words(text[at:span[0]], attachments))
		out.WriteString(text[span[0]:span[1]])
		at = span[1]
	}
	return out.String()
}

func (w *writer) words(text string, attachments map[string]any) string {
	text = pictureMark.ReplaceAllStringFunc(text, func(match string) string {
		parts := pictureMark.FindStringSubmatch(match)
		if strings.Contains(parts[2], "://") || strings.HasPrefix(parts[2], "data:") {
			return match
		}
		address, err := w.picture(parts[2], attachments)
		if err != nil {
			w.warn("the picture %s is left where it is: %v", parts[2], err)
			return match
		}
		_, encoded, _ := strings.Cut(address, ",")
		data, err := base64.StdEncoding.DecodeString(encoded)
		if err != nil {
			return match
		}
		return w.file(path.Base(strings.TrimPrefix(parts[2], "attachment:")), parts[1], data)
	})
	text = referenceMark.ReplaceAllStringFunc(text, func(match string) string {
		parts := referenceMark.FindStringSubmatch(match)
		caption := w.named[parts[2]]
		if caption == nil || parts[1] != "" && !strings.EqualFold(parts[1], caption.kind) {
			return match
		}
		return fmt.Sprintf("[%s](#%s)", numbered(parts[1], caption), parts[2])
	})
	return citation.ReplaceAllStringFunc(text, func(match string) string {
		key := citation.FindStringSubmatch(match)[1]
		s := w.sources[key]
		if s == nil {
			w.warn("%s cites a source that no cell describes", match)
			return match
		}
		return fmt.Sprintf(`[\[%d\]](#source-%s)`, s.number, key)
	})
}

// list is the list of sources.
func (w *writer) list() string {
	var out strings.Builder
	for _, s := range w.sourceOrder {
		fmt.Fprintf(&out, "%d. <a id=\"source-%s\"></a>%s\n", s.number, s.key, s.text)
	}
	return out.String()
}
