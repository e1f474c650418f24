package page

import (
	"fmt"
	"html"
	"regexp"
	"strings"

	"cobber/kernel/notebook"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// The text cites by [@key], and says by "[@key]: …", in a paragraph or an entry
// of a list, what stands behind the key. On the page the sources are one list,
// in the order in which they are cited, where the first of them is described.

// A source is one entry of that list.
type source struct {
	key, text string
	number    int
}

var (
	sourceStart = regexp.MustCompile(`^\s*(?:[-*+]\s+|\d+[.)]\s+)?\[@([\pL\pN][\pL\pN_:.-]*)\]:\s*(.*)$`)
	citation    = regexp.MustCompile(`\[@([\pL\pN][\pL\pN_:.-]*)\]`)
	fence       = regexp.MustCompile("^\\s*(```|~~~)")
)

const sourcesPlace = "<!--cobber:sources-->"

// collectSources finds what is cited and what is described in all cells, and
// returns the text of each Markdown cell without the descriptions.
func (b *builder) collectSources() {
	b.sources, b.texts = map[string]*source{}, map[int]string{}
	var described, cited []string
	for i := range b.notebook.Cells {
		c := &b.notebook.Cells[i]
		if c.Kind != notebook.Markdown {
			continue
		}
		content := c.Source
		if i == 0 && b.about.hasLines {
			content = b.about.body
		}
		rest, found := withoutSources(content)
		b.texts[i] = rest
		for _, s := range found {
			if b.sources[s.key] == nil {
				b.sources[s.key] = s
				described = append(described, s.key)
			}
		}
		for _, match := range citation.FindAllStringSubmatch(withoutCode(rest), -1) {
			cited = append(cited, match[1])
		}
	}
	for _, key := range append(cited, described...) {
		if s := b.sources[key]; s != nil && s.number == 0 {
			b.sourceOrder = append(b.sourceOrder, s)
			s.number = len(b.sourceOrder)
		}
	}
}

// withoutSources takes the descriptions out of a text, and leaves a mark where
// the first stood.
func withoutSources(content string) (rest string, found []*source) {
	var kept []string
	fenced, open := false, false
	for line := range strings.SplitSeq(content, "\n") {
		if fence.MatchString(line) {
			fenced, open = !fenced, false
		}
		match := sourceStart.FindStringSubmatch(line)
		switch {
		case fenced:
			kept = append(kept, line)
		case match != nil:
			if len(found) == 0 {
				kept = append(kept, "", sourcesPlace, "")
			}
			found, open = append(found, &source{key: match[1], text: match[2]}), true
		case open && strings.TrimSpace(line) != "" && (line[0] == ' ' || line[0] == '\t'):
			found[len(found)-1].text += " " + strings.TrimSpace(line)
		default:
			open = false
			kept = append(kept, line)
		}
	}
	return strings.Join(kept, "\n"), found
}

var codeSpan = regexp.MustCompile("(?s)```.*?```|`[^`\n]*`")

func withoutCode(content string) string { return codeSpan.ReplaceAllString(content, "") }

// sourceList is the list of sources as HTML.
func (b *builder) sourceList() string {
	var list strings.Builder
	list.WriteString("<ol class=\"sources\">\n")
	for _, s := range b.sourceOrder {
		words := strings.TrimSpace(b.markdown(s.text, nil))
		words = strings.TrimSuffix(strings.TrimPrefix(words, "<p>"), "</p>")
		fmt.Fprintf(&list, "<li id=\"source-%s\">%s</li>\n", html.EscapeString(s.key), words)
	}
	list.WriteString("</ol>\n")
	return list.String()
}

var kindCitation = ast.NewNodeKind("Citation")

type citationNode struct {
	ast.BaseInline
	key string
}

func (n *citationNode) Kind() ast.NodeKind { return kindCitation }
func (n *citationNode) Dump(source []byte, level int) {
	ast.DumpHelper(n, source, level, map[string]string{"key": n.key}, nil)
}

// citations is the goldmark extension that reads [@key].
type citations struct{ builder *builder }

func (e citations) Extend(m goldmark.Markdown) {
	m.Parser().AddOptions(parser.WithInlineParsers(util.Prioritized(e, 150))) // before links
	m.Renderer().AddOptions(renderer.WithNodeRenderers(util.Prioritized(e, 100)))
}

func (e citations) Trigger() []byte { return []byte{'['} }

func (e citations) Parse(parent ast.Node, block text.Reader, pc parser.Context) ast.Node {
	line, _ := block.PeekLine()
	match := citation.FindSubmatchIndex(line)
	if match == nil || match[0] != 0 {
		return nil
	}
	key := string(line[match[2]:match[3]])
	if e.builder.sources[key] == nil {
		e.builder.warn("[@%s] cites a source that no cell describes", key)
		return nil
	}
	block.Advance(match[1])
	return &citationNode{key: key}
}

func (e citations) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(kindCitation, func(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			s := e.builder.sources[n.(*citationNode).key]
			fmt.Fprintf(w, `<a class="citation" href="#source-%s">[%d]</a>`, html.EscapeString(s.key), s.number)
		}
		return ast.WalkContinue, nil
	})
}
