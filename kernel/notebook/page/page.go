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
}

//go:embed page.css
var stylesheet string

var frame = template.Must(template.New("page").Parse(`<!DOCTYPE html>
<html lang="en">
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
</body>
</html>
`))

// HTML returns the page of a notebook, and a warning for each thing that could
// not be put on it as its author meant it.
func HTML(nb *notebook.Notebook, o Options) (page []byte, warnings []string, err error) {
	b := &builder{options: o, notebook: nb, ids: newIDs()}
	for i := range nb.Cells {
		b.cell(i)
	}
	formulas, err := maths.Styles(b.body.String())
	if err != nil {
		return nil, nil, err
	}
	var out bytes.Buffer
	err = frame.Execute(&out, map[string]any{
		"Title": b.pageTitle(),
		"Style": template.CSS(stylesheet + formulas),
		"Body":  template.HTML(b.body.String()),
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
	where := fmt.Sprintf("cell %d of %d: ", b.current+1, len(b.notebook.Cells))
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
		fmt.Fprintf(&b.body, "<section class=\"text\">\n%s</section>\n", b.markdown(c.Source, c.Attachments))
	case notebook.Code:
		b.codeCell(c)
	case notebook.Raw:
		b.rawCell(c)
	}
}

func (b *builder) codeCell(c *notebook.Cell) {
	hidden := tagged(c, "remove-input") || flagged(c, "source_hidden")
	source := strings.Trim(c.Source, "\n")
	outputs := c.Outputs
	if tagged(c, "remove-output") || flagged(c, "outputs_hidden") {
		outputs = nil
	}
	if (hidden || source == "") && len(outputs) == 0 {
		return
	}
	b.body.WriteString("<section class=\"code\">\n")
	if !hidden && source != "" {
		if c.Count > 0 {
			fmt.Fprintf(&b.body, "<span class=\"count\" title=\"run as number %d\">%d</span>\n", c.Count, c.Count)
		}
		fmt.Fprintf(&b.body, "<pre class=\"source%s\"><code>%s</code></pre>\n", length(source), highlight(source, b.language()))
	}
	for i := range outputs {
		b.output(&outputs[i])
	}
	b.body.WriteString("</section>\n")
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
