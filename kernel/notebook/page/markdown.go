package page

import (
	"bytes"
	"fmt"
	"html"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	plain "github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// markdown returns the HTML of Markdown text, pictures within it.
func (b *builder) markdown(source string, attachments map[string]any) string {
	converter := goldmark.New(
		goldmark.WithExtensions(
			extension.GFM,
			extension.DefinitionList,
			extension.NewFootnote(extension.WithFootnoteIDPrefix(fmt.Sprintf("cell-%d-", b.current+1))),
			formulas{b},
			citations{b},
		),
		goldmark.WithParserOptions(parser.WithAutoHeadingID(), parser.WithAttribute()),
		goldmark.WithRendererOptions(plain.WithUnsafe(), // a notebook may hold HTML; the page's policy stops scripts
			renderer.WithNodeRenderers(util.Prioritized(fences{}, 100))),
	)
	content := []byte(source)
	tree := converter.Parser().Parse(text.NewReader(content), parser.WithContext(parser.NewContext(parser.WithIDs(b.ids))))
	b.noteTitle(tree, content)
	b.arrange(converter, tree, content)
	var out bytes.Buffer
	if err := converter.Renderer().Render(&out, content, tree); err != nil {
		b.warn("the Markdown cannot be shown: %v", err)
		return "<pre class=\"raw\">" + html.EscapeString(source) + "</pre>\n"
	}
	return b.pictures(out.String(), attachments)
}

// noteTitle takes the first heading of the notebook as the title of the page.
func (b *builder) noteTitle(tree ast.Node, source []byte) {
	if b.title != "" {
		return
	}
	for n := tree.FirstChild(); n != nil; n = n.NextSibling() {
		if heading, ok := n.(*ast.Heading); ok {
			b.title = strings.TrimSpace(words(heading, source))
			return
		}
	}
}

// words is the text of a node without its markup.
func words(n ast.Node, source []byte) string {
	var b strings.Builder
	for child := n.FirstChild(); child != nil; child = child.NextSibling() {
		switch child := child.(type) {
		case *ast.Text:
			b.Write(child.Segment.Value(source))
			if child.SoftLineBreak() {
				b.WriteByte(' ')
			}
		case *ast.String:
			b.Write(child.Value)
		case *formulaInline:
			b.WriteString(child.tex)
		default:
			b.WriteString(words(child, source))
		}
	}
	return html.UnescapeString(b.String())
}

// fences highlights fenced code.
type fences struct{}

func (fences) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(ast.KindFencedCodeBlock, func(w util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		block := n.(*ast.FencedCodeBlock)
		var code bytes.Buffer
		for i := range block.Lines().Len() {
			segment := block.Lines().At(i)
			code.Write(segment.Value(source))
		}
		language := string(block.Language(source))
		shown := html.EscapeString(code.String())
		if language != "" {
			shown = highlight(code.String(), language)
		}
		fmt.Fprintf(w, "<pre class=\"source%s\"><code>%s</code></pre>\n", length(code.String()), strings.TrimSuffix(shown, "\n"))
		return ast.WalkSkipChildren, nil
	})
}

// ids gives headings their anchors, each once on the page.
type ids struct{ taken map[string]bool }

func newIDs() *ids { return &ids{taken: map[string]bool{}} }

func (s *ids) Generate(value []byte, kind ast.NodeKind) []byte {
	words := strings.FieldsFunc(strings.ToLower(string(value)), func(r rune) bool {
		return r < 0x80 && !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9')
	})
	base := strings.Join(words, "-")
	if base == "" {
		base = "section"
	}
	id := base
	for i := 2; s.taken[id]; i++ {
		id = fmt.Sprintf("%s-%d", base, i)
	}
	s.taken[id] = true
	return []byte(id)
}

func (s *ids) Put(value []byte) { s.taken[string(value)] = true }
