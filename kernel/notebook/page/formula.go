package page

import (
	"bytes"
	"regexp"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// Formulas in Markdown are written as in Jupyter: $ … $ and \\( … \\) in a line,
// $$ … $$, \\[ … \\] and \begin{…} … \end{…} on their own.

var kindFormula = ast.NewNodeKind("Formula")
var kindFormulaBlock = ast.NewNodeKind("FormulaBlock")

type formulaInline struct {
	ast.BaseInline
	tex     string
	display bool
}

func (n *formulaInline) Kind() ast.NodeKind { return kindFormula }
func (n *formulaInline) Dump(source []byte, level int) {
	ast.DumpHelper(n, source, level, map[string]string{"tex": n.tex}, nil)
}

type formulaBlock struct {
	ast.BaseBlock
	end string // the text that closes it
}

func (n *formulaBlock) Kind() ast.NodeKind { return kindFormulaBlock }
func (n *formulaBlock) IsRaw() bool        { return true }
func (n *formulaBlock) Dump(source []byte, level int) {
	ast.DumpHelper(n, source, level, nil, nil)
}

// formulas is the goldmark extension; it draws with the builder.
type formulas struct{ builder *builder }

func (e formulas) Extend(m goldmark.Markdown) {
	m.Parser().AddOptions(
		parser.WithBlockParsers(util.Prioritized(formulaBlockParser{}, 650)), // before fenced code and paragraphs
		parser.WithInlineParsers(util.Prioritized(formulaInlineParser{}, 150)),
	)
	m.Renderer().AddOptions(renderer.WithNodeRenderers(util.Prioritized(e, 100)))
}

func (e formulas) RegisterFuncs(r renderer.NodeRendererFuncRegisterer) {
	r.Register(kindFormula, func(w util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			f := n.(*formulaInline)
			w.WriteString(e.builder.formula(f.tex, f.display))
		}
		return ast.WalkSkipChildren, nil
	})
	r.Register(kindFormulaBlock, func(w util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			var all bytes.Buffer
			for i := range n.Lines().Len() {
				segment := n.Lines().At(i)
				all.Write(segment.Value(source))
			}
			tex := strings.TrimSpace(all.String())
			w.WriteString(e.builder.formula(bare(tex), true) + "\n")
		}
		return ast.WalkSkipChildren, nil
	})
}

// bare takes the signs around a display formula off; an environment is its own
// pair of signs, and part of the TeX.
func bare(tex string) string {
	for _, pair := range [][2]string{{"$$", "$$"}, {`\\[`, `\\]`}, {`\[`, `\]`}} {
		if inner, ok := strings.CutPrefix(tex, pair[0]); ok {
			return strings.TrimSpace(strings.TrimSuffix(inner, pair[1]))
		}
	}
	return tex
}

var environment = regexp.MustCompile(`^\\begin\{([a-zA-Z]+\*?)\}`)

// closing returns what ends a display formula that begins with text, or nothing.
func closing(text []byte) string {
	switch {
	case bytes.HasPrefix(text, []byte("$$")):
		return "$$"
	case bytes.HasPrefix(text, []byte(`\\[`)):
		return `\\]`
	}
	if match := environment.FindSubmatch(text); match != nil {
		return `\end{` + string(match[1]) + `}`
	}
	return ""
}

// formulaBlockParser takes a display formula that has its lines for itself, so
// that no line of it is read as a list, a heading or a table.
type formulaBlockParser struct{}

func (formulaBlockParser) Trigger() []byte { return []byte{'$', '\\'} }

func (formulaBlockParser) Open(parent ast.Node, reader text.Reader, pc parser.Context) (ast.Node, parser.State) {
	line, segment := reader.PeekLine()
	if pc.BlockOffset() < 0 || pc.BlockOffset() >= len(line) {
		return nil, parser.NoChildren
	}
	start := line[pc.BlockOffset():]
	end := closing(start)
	if end == "" {
		return nil, parser.NoChildren
	}
	opening := 2
	if end != "$$" {
		opening = 3
	}
	node := &formulaBlock{end: end}
	node.Lines().Append(segment)
	if i := bytes.Index(start[opening:], []byte(end)); i >= 0 {
		if len(bytes.TrimSpace(start[opening+i+len(end):])) > 0 {
			return nil, parser.NoChildren // words follow: a formula within a paragraph
		}
		node.end = "" // closed on its first line
	} else if !closesLater(reader.Source()[segment.Stop:], end) {
		return nil, parser.NoChildren
	}
	reader.AdvanceToEOL()
	return node, parser.NoChildren
}

// closesLater reports whether a later line ends a formula, before a blank line
// would make two paragraphs of it.
func closesLater(rest []byte, end string) bool {
	for line := range bytes.Lines(rest) {
		line = bytes.TrimSpace(line)
		if len(line) == 0 {
			return false
		}
		if bytes.HasSuffix(line, []byte(end)) {
			return true
		}
	}
	return false
}

func (formulaBlockParser) Continue(node ast.Node, reader text.Reader, pc parser.Context) parser.State {
	block := node.(*formulaBlock)
	if block.end == "" {
		return parser.Close
	}
	line, segment := reader.PeekLine()
	if len(bytes.TrimSpace(line)) == 0 {
		return parser.Close
	}
	block.Lines().Append(segment)
	if bytes.HasSuffix(bytes.TrimSpace(line), []byte(block.end)) {
		block.end = ""
	}
	reader.AdvanceToEOL()
	return parser.Continue | parser.NoChildren
}

func (formulaBlockParser) Close(ast.Node, text.Reader, parser.Context) {}
func (formulaBlockParser) CanInterruptParagraph() bool                 { return true }
func (formulaBlockParser) CanAcceptIndentedLine() bool                 { return false }

// formulaInlineParser takes the formulas that stand among words.
type formulaInlineParser struct{}

func (formulaInlineParser) Trigger() []byte { return []byte{'$', '\\'} }

func (formulaInlineParser) Parse(parent ast.Node, block text.Reader, pc parser.Context) ast.Node {
	line, segment := block.PeekLine()
	rest := restOfParagraph(block, line)
	tex, length, display := leadingFormula(rest)
	if length == 0 {
		return nil
	}
	node := &formulaInline{tex: tex, display: display}
	_ = segment
	advance(block, length)
	return node
}

// restOfParagraph returns the text from here to the end of the paragraph, and
// leaves the reader where it was.
func restOfParagraph(block text.Reader, line []byte) string {
	number, position := block.Position()
	defer block.SetPosition(number, position)
	var all strings.Builder
	for line != nil {
		all.Write(line)
		block.AdvanceLine()
		line, _ = block.PeekLine()
	}
	return all.String()
}

// advance moves the reader over length bytes, which may reach over lines.
func advance(block text.Reader, length int) {
	for length > 0 {
		line, _ := block.PeekLine()
		if len(line) > length {
			block.Advance(length)
			return
		}
		length -= len(line)
		block.AdvanceLine()
	}
}

// leadingFormula returns the formula that text begins with, and how long it is
// with its signs; 0 when text does not begin with one. A dollar sign opens only
// before a character that is not a space, and closes only behind one, and not
// before a digit: "$5 to $10" is money.
func leadingFormula(text string) (tex string, length int, display bool) {
	for _, pair := range []struct {
		open, end string
		display   bool
	}{{"$$", "$$", true}, {`\\[`, `\\]`, true}, {`\\(`, `\\)`, false}} {
		inner, ok := strings.CutPrefix(text, pair.open)
		if !ok {
			continue
		}
		i := strings.Index(inner, pair.end)
		if i < 0 || strings.TrimSpace(inner[:i]) == "" {
			return "", 0, false
		}
		return strings.TrimSpace(inner[:i]), len(pair.open) + i + len(pair.end), pair.display
	}
	if match := environment.FindStringSubmatch(text); match != nil {
		end := `\end{` + match[1] + `}`
		if i := strings.Index(text, end); i >= 0 {
			return text[:i+len(end)], i + len(end), true
		}
		return "", 0, false
	}
	if strings.HasPrefix(text, "$") {
		if i := closingDollar(text[1:]); i > 0 {
			return text[1 : 1+i], i + 2, false
		}
	}
	return "", 0, false
}

func closingDollar(inner string) int {
	if inner == "" || isSpace(inner[0]) {
		return -1
	}
	for i := 0; i < len(inner); i++ {
		switch inner[i] {
		case '\\':
			i++
		case '$':
			digit := i+1 < len(inner) && inner[i+1] >= '0' && inner[i+1] <= '9'
			if isSpace(inner[i-1]) || digit {
				return -1
			}
			return i
		}
	}
	return -1
}

func isSpace(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }
