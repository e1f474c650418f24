package page

import (
	"bytes"
	_ "embed"
	"fmt"
	"html"
	"html/template"
	"strings"

	"cobber/kernel/notebook"
	"cobber/kernel/notebook/page/maths"
)

// Options say what HTML cannot know from the notebook.
type Options struct {
	Name string                            // the notebook's name: the title of a page without a heading
	File func(path string) ([]byte, error) // reads a picture that the text names by a relative path; may be nil
	Code string                            // show, fold or hide: what becomes of the code; empty for what the notebook says
	Made []string                          // lines for the foot of the page: what the notebook ran with
}

//go:embed page.css
var stylesheet string

var frame = template.Must(template.New("page").Parse(`<!DOCTYPE html>
<html lang="{{.Language}}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; font-src data:; style-src 'unsafe-inline'; form-action 'none'; base-uri 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<meta name="generator" content="cobber">
<title>{{.Title}}</title>
<style>
{{.Style}}</style>
</head>
<body>
<main>
{{.Body}}</main>
{{.Foot}}</body>
</html>
`))

// HTML returns the page of a notebook, and a warning for each thing that could
// not be put on it as its author meant it.
func HTML(nb *notebook.Notebook, o Options) (page []byte, warnings []string, err error) {
	b := prepare(nb, o)
	for i := range nb.Cells {
		b.cell(i)
	}
	b.checkReferences()
	text := b.body.String()
	if strings.Contains(text, sourcesPlace) {
		text = strings.Replace(text, sourcesPlace, b.sourceList(), 1)
		text = strings.ReplaceAll(text, sourcesPlace, "")
	}
	text = b.head() + text
	formulas, err := maths.Styles(text)
	if err != nil {
		return nil, nil, err
	}
	var out bytes.Buffer
	err = frame.Execute(&out, map[string]any{
		"Language": b.about.language,
		"Title":    b.pageTitle(),
		"Style":    template.CSS(stylesheet + formulas),
		"Body":     template.HTML(text),
		"Foot":     template.HTML(b.foot()),
	})
	return out.Bytes(), b.warnings, err
}

// A builder writes the page, cell by cell.
type builder struct {
	options  Options
	notebook *notebook.Notebook
	body     strings.Builder
	typeset  maths.Typesetter
	ids      *ids
	title    string
	current  int // index of the cell being written
	warnings []string

	about       about
	titleCell   int    // the cell whose text begins with the title, or -1
	titleHTML   string // what that title says
	titleID     string
	outline     outline
	texts       map[int]string // of Markdown cells, without what stands elsewhere on the page
	captions    map[*notebook.Output]*caption
	named       map[string]*caption // by anchor
	references  []reference
	sources     map[string]*source
	sourceOrder []*source
}

// prepare reads what must be known before the first line is written.
func prepare(nb *notebook.Notebook, o Options) *builder {
	b := &builder{options: o, notebook: nb, ids: newIDs(), about: aboutOf(nb)}
	for _, fault := range b.about.faults {
		b.warn("%s", fault)
	}
	if o.Code != "" {
		b.about.code = o.Code
	}
	b.title = b.about.title
	b.collectSources()
	b.findTitle()
	b.number()
	return b
}

// head is what stands above the text: title, authors, date, abstract, contents.
func (b *builder) head() string {
	var out strings.Builder
	title := b.titleHTML
	if title == "" {
		title = html.EscapeString(orElse(b.about.title, b.options.Name))
	}
	if title != "" {
		fmt.Fprintf(&out, "<h1 id=\"%s\">%s</h1>\n", orElse(b.titleID, "title"), title)
	}
	if len(b.about.authors) > 0 {
		fmt.Fprintf(&out, "<p class=\"authors\">%s</p>\n", html.EscapeString(strings.Join(b.about.authors, ", ")))
	}
	if b.about.date != "" {
		fmt.Fprintf(&out, "<p class=\"date\">%s</p>\n", html.EscapeString(b.about.date))
	}
	if b.about.abstract != "" {
		fmt.Fprintf(&out, "<div class=\"abstract\" role=\"doc-abstract\">\n%s</div>\n", b.aside(b.about.abstract))
	}
	contents := b.contents()
	if out.Len()+len(contents) == 0 {
		return ""
	}
	return "<header>\n" + out.String() + "</header>\n" + contents
}

// aside is the HTML of a text that belongs to no cell.
func (b *builder) aside(text string) string {
	b.current = -1
	return b.markdown(text, nil)
}

// foot says what the notebook ran with.
func (b *builder) foot() string {
	if len(b.options.Made) == 0 {
		return ""
	}
	var out strings.Builder
	out.WriteString("<footer>\n")
	for _, line := range b.options.Made {
		fmt.Fprintf(&out, "<p>%s</p>\n", html.EscapeString(line))
	}
	out.WriteString("</footer>\n")
	return out.String()
}

func (b *builder) pageTitle() string {
	switch {
	case b.title != "":
		return b.title
	case b.options.Name != "":
		return b.options.Name
	}
	return "Notebook"
}

func (b *builder) warn(format string, args ...any) {
	where := ""
	if b.current >= 0 && len(b.notebook.Cells) > 0 {
		where = fmt.Sprintf("cell %d of %d: ", b.current+1, len(b.notebook.Cells))
	}
	b.warnings = append(b.warnings, where+fmt.Sprintf(format, args...))
}

func (b *builder) cell(index int) {
	b.current = index
	c := &b.notebook.Cells[index]
	if tagged(c, "remove-cell") {
		return
	}
	switch c.Kind {
	case notebook.Markdown:
		if shown := b.markdown(b.texts[index], c.Attachments); strings.TrimSpace(shown) != "" {
			fmt.Fprintf(&b.body, "<section class=\"text\">\n%s</section>\n", shown)
		}
	case notebook.Code:
		b.codeCell(c)
	case notebook.Raw:
		if index > 0 || !b.about.hasLines {
			b.rawCell(c)
		}
	}
}

func (b *builder) codeCell(c *notebook.Cell) {
	hidden := tagged(c, "remove-input") || flagged(c, "source_hidden") || b.about.code == "hide"
	_, source := withoutCaptions(c.Source)
	source = strings.Trim(source, "\n")
	outputs := c.Outputs
	if tagged(c, "remove-output") || flagged(c, "outputs_hidden") {
		outputs = nil
	}
	if (hidden || source == "") && len(outputs)+len(c.Inputs()) == 0 {
		return
	}
	b.body.WriteString("<section class=\"code\">\n")
	if !hidden && source != "" {
		b.source(c, source)
	}
	b.inputs(c)
	for i := range outputs {
		b.captioned(&outputs[i])
	}
	b.body.WriteString("</section>\n")
}

// source writes the code of a cell, folded away if the notebook is to be read
// without it.
func (b *builder) source(c *notebook.Cell, source string) {
	folded := b.about.code == "fold"
	if folded {
		b.body.WriteString("<details><summary>Code</summary>\n")
	}
	if c.Count > 0 {
		fmt.Fprintf(&b.body, "<span class=\"count\" title=\"run as number %d\">%d</span>\n", c.Count, c.Count)
	}
	fmt.Fprintf(&b.body, "<pre class=\"source%s\"><code>%s</code></pre>\n", length(source), highlight(source, b.language()))
	if folded {
		b.body.WriteString("</details>\n")
	}
}

// captioned writes an output, and the caption that it has: above a table, as is
// the custom, and below a figure.
func (b *builder) captioned(o *notebook.Output) {
	c := b.captions[o]
	if c == nil {
		b.output(o)
		return
	}
	words := strings.TrimSpace(b.markdown(c.text, nil))
	words = strings.TrimSuffix(strings.TrimPrefix(words, "<p>"), "</p>")
	caption := fmt.Sprintf("<figcaption><b>%s.</b> %s</figcaption>\n", c.label(), words)
	fmt.Fprintf(&b.body, "<figure class=\"numbered\" id=\"%s\">\n", c.anchor())
	if c.kind == "table" {
		b.body.WriteString(caption)
		b.output(o)
	} else {
		b.output(o)
		b.body.WriteString(caption)
	}
	b.body.WriteString("</figure>\n")
}

// length marks code that fits a sheet of paper and need not be cut.
func length(source string) string {
	if strings.Count(source, "\n") < 40 {
		return " short"
	}
	return ""
}

// rawCell shows what the notebook's author wrote for this kind of page, or for
// none in particular.
func (b *builder) rawCell(c *notebook.Cell) {
	format, _ := c.Metadata["format"].(string)
	if mime, ok := c.Metadata["raw_mimetype"].(string); ok && format == "" {
		format = mime
	}
	switch format {
	case "text/html", "html":
		fmt.Fprintf(&b.body, "<section class=\"text\">\n%s\n</section>\n", b.pictures(c.Source, c.Attachments))
	case "text/markdown", "markdown":
		fmt.Fprintf(&b.body, "<section class=\"text\">\n%s</section>\n", b.markdown(c.Source, c.Attachments))
	case "":
		fmt.Fprintf(&b.body, "<section class=\"text\">\n<pre class=\"raw\">%s</pre>\n</section>\n", html.EscapeString(c.Source))
	}
}

// language is the name of the notebook's language for highlighting.
func (b *builder) language() string {
	info, _ := b.notebook.Metadata["language_info"].(map[string]any)
	if name, ok := info["name"].(string); ok {
		return name
	}
	spec, _ := b.notebook.Metadata["kernelspec"].(map[string]any)
	if name, ok := spec["language"].(string); ok {
		return name
	}
	return "go"
}

// tagged knows a tag with hyphens and with underscores: both are in use.
func tagged(c *notebook.Cell, tag string) bool {
	return c.Tagged(tag) || c.Tagged(strings.ReplaceAll(tag, "-", "_"))
}

// flagged reads the marks that notebook editors leave when a part of a cell is
// folded away.
func flagged(c *notebook.Cell, name string) bool {
	marks, _ := c.Metadata["jupyter"].(map[string]any)
	set, _ := marks[name].(bool)
	return set
}
