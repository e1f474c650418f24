package check

import (
	"go/ast"
	"go/token"
	"go/types"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"cobber/kernel/diag"
	"cobber/kernel/source"
)

// maxFaults is how many faults of a cell are reported.
const maxFaults = 10

// diagnostic fills in place and summary of d for a node of the cell.
func (t *Tree) diagnostic(d diag.Diagnostic, at ast.Node, summary string) diag.Diagnostic {
	return t.place(d, at.Pos(), t.width(at.Pos(), at.End()), summary)
}

func (t *Tree) place(d diag.Diagnostic, pos token.Pos, width int, summary string) diag.Diagnostic {
	at := diag.New(d.Code, t.Cell.Source, t.Cell.Offset(pos), width, summary)
	at.Detail, at.Related = d.Detail, d.Related
	return at
}

func (t *Tree) fault(d diag.Diagnostic, at ast.Node, summary string) {
	t.faults = append(t.faults, t.diagnostic(d, at, summary))
}

func (t *Tree) faultAt(d diag.Diagnostic, pos token.Pos, width int, summary string) {
	t.faults = append(t.faults, t.place(d, pos, width, summary))
}

// Fault adds a fault found by a later stage.
func (t *Tree) Fault(code string, pos token.Pos, width int, summary, detail string) {
	t.faultAt(diag.Diagnostic{Code: code, Detail: detail}, pos, width, summary)
}

// width counts the characters between two positions, at most to the line's end.
func (t *Tree) width(from, to token.Pos) int {
	text := t.Cell.Source.Text[t.Cell.Offset(from):max(t.Cell.Offset(from), t.Cell.Offset(to))]
	first, _, _ := strings.Cut(text, "\n")
	return max(1, len([]rune(first)))
}

// Numbers of go/types' errors that are looked at here. A test provokes each.
const (
	codeInvalidInitCycle       = 9
	codeDuplicateDecl          = 10
	codeInvalidDeclCycle       = 11
	codeUnexportedLitField     = 68
	codeUndeclaredImportedName = 73
	codeUnexportedName         = 74
	codeUndeclaredName         = 75
	codeMissingFieldOrMethod   = 76
	codeUnusedVar              = 101
)

// codeOf reads the number of an error, which go/types lets tools read by
// reflection; 0 if a later Go no longer does.
func codeOf(err types.Error) int {
	v := reflect.ValueOf(err).FieldByName("go116code")
	if !v.IsValid() || !v.CanInt() {
		return 0
	}
	return int(v.Int())
}

// extent reads where the faulty text begins and ends.
func extent(err types.Error) (start, end token.Pos) {
	v := reflect.ValueOf(err)
	s, e := v.FieldByName("go116start"), v.FieldByName("go116end")
	if !s.IsValid() || !e.IsValid() || !s.CanInt() || !e.CanInt() {
		return err.Pos, err.Pos
	}
	return token.Pos(s.Int()), token.Pos(e.Int())
}

// Faults returns all that is wrong with the cell after this round, in the
// order of the text.
func (r *Round) Faults() diag.List {
	list := append(diag.List(nil), r.Tree.faults...)
	reported := make(map[source.Position]bool)
	for _, d := range list {
		reported[d.Pos] = true
	}
	for _, err := range r.errors {
		if text, ok := strings.CutPrefix(err.Msg, "\t"); ok {
			list = r.addRelated(list, text, err.Pos)
			continue
		}
		if r.isArtifact(err) {
			continue
		}
		d := r.report(err)
		// The expression of a definition is checked twice; the first error is
		// the one that says most.
		if !reported[d.Pos] {
			reported[d.Pos] = true
			list = append(list, d)
		}
	}
	return withoutEchoes(list).Sorted(maxFaults)
}

// addRelated adds to the last fault the second place that go/types names for
// it. Of two declarations the later one is at fault.
func (r *Round) addRelated(list diag.List, text string, pos token.Pos) diag.List {
	if len(list) == 0 || list[len(list)-1].Code != Redeclared {
		return list
	}
	d := &list[len(list)-1]
	other := r.Tree.place(*d, pos, d.Width, d.Summary)
	if len(d.Related) > 0 || other.Pos == d.Pos {
		return list
	}
	if after(other.Pos, d.Pos) {
		*d, other = other, *d
	}
	d.Related = []diag.Related{{Pos: other.Pos, Text: text, SourceLine: other.SourceLine}}
	return list
}

func after(a, b source.Position) bool {
	return a.Line > b.Line || a.Line == b.Line && a.Column > b.Column
}

// withoutEchoes leaves out variables that are not used where names are not
// known: the one is mostly the other, misspelt.
func withoutEchoes(list diag.List) diag.List {
	unknown := false
	for _, d := range list {
		unknown = unknown || d.Code == Undefined
	}
	if !unknown {
		return list
	}
	kept := list[:0]
	for _, d := range list {
		if d.Code != Unused {
			kept = append(kept, d)
		}
	}
	return kept
}

// isArtifact tells errors that come from the form of the file, not from the
// cell: initial values are never run, so that no cycle can be among them.
func (r *Round) isArtifact(err types.Error) bool {
	switch codeOf(err) {
	case codeInvalidInitCycle:
		return !r.Tree.Cell.Program
	case codeInvalidDeclCycle:
		return r.hasEarlyUse()
	}
	return false
}

// hasEarlyUse tells whether a name is used before its definition: that has
// been reported, and a cycle that comes of it is no news.
func (r *Round) hasEarlyUse() bool {
	for _, d := range r.Tree.faults {
		if d.Code == Undefined {
			return true
		}
	}
	return len(r.EarlyUses()) > 0
}

// report turns an error of go/types into a diagnostic.
func (r *Round) report(err types.Error) diag.Diagnostic {
	start, end := extent(err)
	width := 1
	if start == err.Pos {
		width = r.Tree.width(start, end)
	}
	summary, rest, _ := strings.Cut(err.Msg, "\n\t")
	d := r.Tree.place(diag.Diagnostic{Code: Mismatch}, err.Pos, width, r.clean(summary, err.Pos))
	for _, line := range strings.Split(rest, "\n\t") {
		if line == "" {
			continue
		}
		if related, ok := r.related(line); ok {
			d.Related = append(d.Related, related)
		} else {
			d.Detail = join(d.Detail, r.clean(line, err.Pos))
		}
	}
	r.advise(&d, err)
	return d
}

func join(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "\n" + b
}

// related reads a further line of an error: "cell 3:2:1: other declaration of x".
func (r *Round) related(line string) (diag.Related, bool) {
	cell := r.Tree.Cell.Source
	rest, ok := strings.CutPrefix(line, cell.Name+":")
	if !ok {
		return diag.Related{}, false
	}
	lineText, rest, _ := strings.Cut(rest, ":")
	columnText, text, ok := strings.Cut(rest, ": ")
	row, err1 := strconv.Atoi(lineText)
	column, err2 := strconv.Atoi(columnText)
	if !ok || err1 != nil || err2 != nil || row < 1 || row > r.Tree.Cell.File.LineCount() {
		return diag.Related{}, false
	}
	offset := r.Tree.Cell.Offset(r.Tree.Cell.File.LineStart(row)) + column - 1
	return diag.Related{Pos: cell.At(offset), Text: r.clean(text, token.NoPos), SourceLine: cell.Line(row)}, true
}

// clean takes out of a message what the user did not write: the names that
// trees use, the number that the checker sees in a quantity, the package of
// the session.
func (r *Round) clean(msg string, pos token.Pos) string {
	msg = literalText(msg)
	msg = unwrap(msg, QuantityType+"(")
	msg = elementaryCall.ReplaceAllString(msg, "math.$1(")
	msg = strings.NewReplacer(
		Earlier, "",
		"of float64 type quantity.Quantity", "of type quantity.Quantity",
		" in variable declaration", r.inDeclaration(pos),
	).Replace(msg)
	return r.ofEarlierCells(msg, pos)
}

var elementaryCall = regexp.MustCompile(Elementary + `\("(\w+)", `)

// inDeclaration says where a value does not fit: what is written := is checked
// here as a var declaration.
func (r *Round) inDeclaration(pos token.Pos) string {
	if final := r.Tree.Cell.Final; final != nil && final.Pos() <= pos && pos < final.End() {
		return ""
	}
	for _, s := range r.Tree.Cell.Statements {
		if a, ok := s.(*ast.AssignStmt); ok && a.Tok == token.DEFINE && a.Pos() <= pos && pos <= a.End() {
			return " in assignment"
		}
	}
	return " in variable declaration"
}

// literalText puts quantity literals back into the form they were written in.
func literalText(msg string) string {
	const call = "quantity·.Of("
	for {
		at := strings.Index(msg, call)
		if at < 0 {
			return msg
		}
		rest := msg[at+len(call):]
		number, rest, ok := strings.Cut(rest, ", `")
		unit, rest, ok2 := strings.Cut(rest, "`)")
		if !ok || !ok2 {
			return msg
		}
		msg = msg[:at] + number + "`" + unit + "`" + rest
	}
}

// unwrap removes calls that begin with the given text, and keeps the argument.
func unwrap(msg, call string) string {
	for {
		at := strings.Index(msg, call)
		if at < 0 {
			return msg
		}
		rest := msg[at+len(call):]
		depth, end := 1, 0
		for end < len(rest) {
			if rest[end] == '(' {
				depth++
			} else if rest[end] == ')' {
				if depth--; depth == 0 {
					break
				}
			}
			end++
		}
		if end == len(rest) {
			return msg
		}
		msg = msg[:at] + rest[:end] + rest[end+1:]
	}
}

// HasErrors tells whether go/types found anything in this round.
func (r *Round) HasErrors() bool { return len(r.errors) > 0 }

// HasUnexportedField tells whether a struct literal left out the name of a
// field that the cell's package does not see.
func (r *Round) HasUnexportedField() bool {
	for _, err := range r.errors {
		if codeOf(err) == codeUnexportedLitField {
			return true
		}
	}
	return false
}
