package page

import (
	"bytes"
	"fmt"
	"html"
	"strings"

	"cobber/kernel/notebook"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"
)

// A heading is one line of the contents.
type heading struct {
	level int // on the page: 2 for a chapter
	id    string
	inner string // HTML
}

// An outline gives headings levels without gaps, so that who hears the page
// read out is not led to look for a level that is missing.
type outline struct {
	above    []int // levels, as written, of the headings that the next stands below
	headings []heading
}

// place returns the level on the page of a heading written at a level.
func (o *outline) place(written int) int {
	for len(o.above) > 0 && o.above[len(o.above)-1] >= written {
		o.above = o.above[:len(o.above)-1]
	}
	o.above = append(o.above, written)
	return min(len(o.above)+1, 6)
}

// arrange takes the title out of the text that begins with it, and puts the
// other headings in their places.
func (b *builder) arrange(m goldmark.Markdown, tree ast.Node, content []byte) {
	if b.current == b.titleCell {
		if title, ok := tree.FirstChild().(*ast.Heading); ok && b.titleHTML == "" {
			b.titleHTML = inner(m, title, content)
			b.titleID = idOf(title)
			tree.RemoveChild(tree, title)
		}
	}
	for n := tree.FirstChild(); n != nil; n = n.NextSibling() {
		h, ok := n.(*ast.Heading)
		if !ok {
			continue
		}
		h.Level = b.outline.place(h.Level)
		b.outline.headings = append(b.outline.headings, heading{level: h.Level, id: idOf(h), inner: inner(m, h, content)})
	}
	b.resolve(tree, content)
}

func idOf(h *ast.Heading) string {
	id, _ := h.AttributeString("id")
	name, _ := id.([]byte)
	return string(name)
}

// inner is the HTML of what a heading says.
func inner(m goldmark.Markdown, h *ast.Heading, content []byte) string {
	var out bytes.Buffer
	for n := h.FirstChild(); n != nil; n = n.NextSibling() {
		if m.Renderer().Render(&out, content, n) != nil {
			return html.EscapeString(words(h, content))
		}
	}
	return strings.TrimSpace(out.String())
}

// resolve gives references to figures and tables their numbers, and notes those
// that lead nowhere.
func (b *builder) resolve(tree ast.Node, content []byte) {
	_ = ast.Walk(tree, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		link, ok := n.(*ast.Link)
		if !ok || !entering {
			return ast.WalkContinue, nil
		}
		name, ok := strings.CutPrefix(string(link.Destination), "#")
		if !ok {
			return ast.WalkContinue, nil
		}
		caption := b.named[name]
		if caption == nil {
			b.references = append(b.references, reference{b.current, name})
			return ast.WalkContinue, nil
		}
		said := strings.TrimSpace(words(link, content))
		if said == "" || strings.EqualFold(said, caption.kind) {
			link.RemoveChildren(link)
			link.AppendChild(link, ast.NewString([]byte(numbered(said, caption))))
		}
		return ast.WalkContinue, nil
	})
}

// numbered keeps the case in which the text refers to a figure.
func numbered(said string, c *caption) string {
	if said == "" {
		return c.label()
	}
	return fmt.Sprintf("%s %d", said, c.number)
}

// A reference is a link within the page whose place is not known yet.
type reference struct {
	cell int
	name string
}

func (b *builder) checkReferences() {
	for _, r := range b.references {
		if !b.ids.taken[r.name] && !strings.Contains(b.body.String(), `id="`+html.EscapeString(r.name)+`"`) {
			b.current = r.cell
			b.warn("the text refers to #%s, and nothing on the page has that name", r.name)
		}
	}
}

// contents lists chapters and sections, where there are enough to need it.
func (b *builder) contents() string {
	var list []heading
	for _, h := range b.outline.headings {
		if h.level <= 3 && h.id != "" {
			list = append(list, h)
		}
	}
	if b.about.noContents || len(list) < 3 {
		return ""
	}
	var out strings.Builder
	out.WriteString("<nav class=\"contents\" aria-label=\"Contents\">\n<ol>\n")
	for i, h := range list {
		switch { // the outline begins at level 2, and leaves none out
		case i == 0:
		case h.level > list[i-1].level:
			out.WriteString("<ol>\n")
		case h.level < list[i-1].level:
			out.WriteString("</li>\n</ol>\n</li>\n")
		default:
			out.WriteString("</li>\n")
		}
		fmt.Fprintf(&out, "<li><a href=\"#%s\">%s</a>", html.EscapeString(h.id), withoutLinks(h.inner))
	}
	if list[len(list)-1].level == 3 {
		out.WriteString("</li>\n</ol>\n")
	}
	out.WriteString("</li>\n</ol>\n</nav>\n")
	return out.String()
}

// withoutLinks keeps a link out of a link.
func withoutLinks(markup string) string {
	for {
		start := strings.Index(markup, "<a ")
		if start < 0 {
			return strings.ReplaceAll(markup, "</a>", "")
		}
		end := strings.Index(markup[start:], ">")
		if end < 0 {
			return markup
		}
		markup = markup[:start] + markup[start+end+1:]
	}
}

// findTitle says in which cell the title stands: the first, if its text begins
// with a heading that is not another than the one that the notebook's metadata
// give. It is -1 where there is none.
func (b *builder) findTitle() {
	b.titleCell = -1
	for i := range b.notebook.Cells {
		c := &b.notebook.Cells[i]
		if tagged(c, "remove-cell") || c.Kind == notebook.Raw || strings.TrimSpace(b.texts[i]) == "" && c.Kind == notebook.Markdown {
			continue
		}
		if c.Kind == notebook.Markdown {
			content := []byte(b.texts[i])
			tree := goldmark.New().Parser().Parse(text.NewReader(content))
			h, ok := tree.FirstChild().(*ast.Heading)
			if ok && (b.about.title == "" || strings.EqualFold(strings.TrimSpace(words(h, content)), b.about.title)) {
				b.titleCell = i
			}
		}
		return
	}
}
