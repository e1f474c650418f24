package check

import (
	"go/ast"
	"go/token"
	"go/types"
	"sort"
	"strings"

	"cobber/kernel/source"
	"cobber/kernel/symbols"
	"cobber/stdlib/quantity"
)

// Match is one way to complete the name at the cursor.
type Match struct {
	Text      string
	Type      string // "variable", "function", "method", "field", "type", "constant", "package", "keyword", "unit"
	Signature string // the type of a variable, the parameters and results of a function

	rank int // what is the user's own comes first: the session's names, packages, Go's names, keywords
}

// Completion is the ways to complete a text at the cursor. Start and End count
// code points: the part of the text that a match replaces.
type Completion struct {
	Matches    []Match
	Start, End int
}

// Complete proposes how a name may go on at a cursor, which counts code points.
// It parses and checks, and runs nothing.
func Complete(state *State, text string, cursor int) Completion {
	cell := source.Cell{Text: text}
	offset := cell.Offset(cursor)
	c := Completion{Start: cursor, End: cursor}
	if start, matches, ok := completeLiteral(text[:offset]); ok {
		c.Start, c.Matches = cell.Cursor(start), matches
		return c
	}
	start, _ := nameAround(text[:offset], offset)
	c.Start = cell.Cursor(start)
	u := checkUnfinished(state, text[:start]+marker, start)
	selected := strings.HasSuffix(strings.TrimRight(text[:start], " \t\r\n"), ".")
	var all []Match
	switch {
	case u == nil && selected:
	case u == nil:
		all = state.everyName()
	case selected:
		all = u.selected()
	default:
		all = append(u.names(), state.everyName()...)
	}
	c.Matches = choose(all, text[start:offset])
	return c
}

// completeLiteral completes inside quotes: units, and paths of imports. It is
// also ok, with nothing to propose, inside other texts and comments.
func completeLiteral(before string) (start int, matches []Match, ok bool) {
	tokens := tokensOf(before)
	if len(tokens) == 0 {
		return 0, nil, false
	}
	last := tokens[len(tokens)-1]
	switch {
	case last.kind == token.COMMENT && isDirective(before, last):
		return last.offset, completeVerb(last.text), true
	case last.kind == token.COMMENT:
		open := strings.HasPrefix(last.text, "//") || !strings.HasSuffix(before, "*/")
		return len(before), nil, open && !strings.HasSuffix(before, "\n")
	case last.kind != token.STRING || closed(before[last.offset:]):
		return 0, nil, false
	}
	inside := before[last.offset+1:]
	if len(tokens) > 1 && before[last.offset] == '`' {
		number := tokens[len(tokens)-2]
		if (number.kind == token.INT || number.kind == token.FLOAT) && number.offset+len(number.text) == last.offset {
			start, matches = completeUnit(before, last.offset+1)
			return start, matches, true
		}
	}
	if inImport(tokens) {
		for _, path := range symbols.Packages() {
			if strings.HasPrefix(path, inside) {
				matches = append(matches, Match{Text: path, Type: "package"})
			}
		}
		return last.offset + 1, matches, true
	}
	return len(before), nil, true
}

// closed tells whether a text that begins with a quote also ends with it.
func closed(literal string) bool {
	return len(literal) > 1 && literal[len(literal)-1] == literal[0] &&
		(literal[0] == '`' || !strings.HasSuffix(literal, `\"`) || strings.HasSuffix(literal, `\\"`))
}

func inImport(tokens []lexeme) bool {
	for i := len(tokens) - 2; i >= 0; i-- {
		switch tokens[i].kind {
		case token.IMPORT:
			return true
		case token.LPAREN, token.STRING, token.IDENT, token.COMMENT, token.SEMICOLON, token.PERIOD:
		default:
			return false
		}
	}
	return false
}

// completeUnit completes the last factor of a unit.
func completeUnit(before string, from int) (start int, matches []Match) {
	start = from + strings.LastIndexAny(before[from:], "/*·()^ ")
	if start >= from {
		for start++; start < len(before) && before[start]&0xC0 == 0x80; start++ {
		}
	} else {
		start = from
	}
	prefix := before[start:]
	seen := make(map[string]bool)
	propose := func(symbol, name string) {
		if strings.HasPrefix(symbol, prefix) && !seen[symbol] {
			seen[symbol] = true
			matches = append(matches, Match{Text: symbol, Type: "unit", Signature: name})
		}
	}
	for _, u := range quantity.Known() {
		propose(u.Symbol, u.Name)
		if prefix == "" {
			continue // with every multiple the list would be too long to read
		}
		for _, multiple := range u.Prefixes {
			propose(multiple+u.Symbol, u.Name)
		}
	}
	return start, matches
}

// selected returns what can follow the dot at the cursor.
func (u *unfinished) selected() []Match {
	_, sel, _ := u.find()
	if sel == nil {
		return nil
	}
	if id, ok := sel.X.(*ast.Ident); ok {
		if pkg, ok := u.round.Info.Uses[id].(*types.PkgName); ok {
			return matchesOf(exported(pkg.Imported()), u.round.Package)
		}
	}
	tv, ok := u.round.Info.Types[sel.X]
	if !ok || tv.Type == nil || tv.Type == types.Typ[types.Invalid] {
		return nil
	}
	return matchesOf(membersOf(tv.Type, u.round.Package), u.round.Package)
}

func exported(pkg *types.Package) []types.Object {
	var objects []types.Object
	for _, name := range pkg.Scope().Names() {
		if ast.IsExported(name) {
			objects = append(objects, pkg.Scope().Lookup(name))
		}
	}
	return objects
}

// names returns the fields, local names and names of the cell known at the
// cursor, the nearest first.
func (u *unfinished) names() []Match {
	var matches []Match
	_, _, lit := u.find()
	if lit != nil {
		if s, ok := structOf(u.round.Info.Types[lit].Type); ok {
			for i := range s.NumFields() {
				matches = append(matches, matchesOf([]types.Object{s.Field(i)}, u.round.Package)...)
			}
		}
	}
	scope := u.innermost()
	for ; scope != nil && scope != types.Universe; scope = scope.Parent() {
		var objects []types.Object
		for _, name := range scope.Names() {
			object := scope.Lookup(name)
			local := scope != u.round.Package.Scope()
			if name == marker || strings.Contains(name, "·") || local && object.Pos() > u.at {
				continue
			}
			objects = append(objects, object)
		}
		matches = append(matches, matchesOf(objects, u.round.Package)...)
	}
	return matches
}

// innermost returns the smallest scope around the cursor.
func (u *unfinished) innermost() *types.Scope {
	best := u.round.Package.Scope()
	smallest := token.Pos(-1)
	for _, s := range u.round.Info.Scopes {
		if size := s.End() - s.Pos(); s.Contains(u.at) && (smallest < 0 || size < smallest) {
			best, smallest = s, size
		}
	}
	return best
}

func structOf(t types.Type) (*types.Struct, bool) {
	if t == nil {
		return nil, false
	}
	if p, ok := t.Underlying().(*types.Pointer); ok {
		t = p.Elem()
	}
	s, ok := t.Underlying().(*types.Struct)
	return s, ok
}

// everyName returns the names of the session, of the library, and of Go.
func (s *State) everyName() []Match {
	var matches []Match
	for _, name := range s.Names() {
		known, _ := s.Lookup(name)
		if known.Object == nil {
			matches = append(matches, Match{Text: name, Type: "package", Signature: known.Import})
			continue
		}
		matches = append(matches, matchesOf([]types.Object{known.Object}, known.Object.Pkg())...)
	}
	for name, path := range library {
		matches = append(matches, Match{Text: name, Type: "package", Signature: path, rank: 1})
	}
	for _, name := range types.Universe.Names() {
		m := matchesOf([]types.Object{types.Universe.Lookup(name)}, nil)[0]
		m.rank = 2
		matches = append(matches, m)
	}
	for t := token.BREAK; t <= token.VAR; t++ {
		matches = append(matches, Match{Text: t.String(), Type: "keyword", rank: 3})
	}
	return matches
}

func matchesOf(objects []types.Object, from *types.Package) []Match {
	matches := make([]Match, len(objects))
	for i, o := range objects {
		matches[i] = Match{Text: o.Name(), Type: kindOf(o), Signature: signatureOf(o, from)}
	}
	return matches
}

func kindOf(o types.Object) string {
	switch o := o.(type) {
	case *types.Func:
		if o.Signature().Recv() != nil {
			return "method"
		}
		return "function"
	case *types.Builtin:
		return "function"
	case *types.TypeName:
		return "type"
	case *types.Const, *types.Nil:
		return "constant"
	case *types.PkgName:
		return "package"
	case *types.Var:
		if o.IsField() {
			return "field"
		}
	}
	return "variable"
}

func signatureOf(o types.Object, from *types.Package) string {
	switch o := o.(type) {
	case *types.Builtin, *types.Nil:
		return ""
	case *types.PkgName:
		return o.Imported().Path()
	case *types.TypeName:
		return typeText(o.Type().Underlying(), from)
	case *types.Func:
		return strings.TrimPrefix(typeText(o.Type(), from), "func")
	}
	return typeText(o.Type(), from)
}

// typeText writes a type as a cell would: the names of the session are bare.
func typeText(t types.Type, from *types.Package) string {
	return types.TypeString(t, func(pkg *types.Package) string {
		if from != nil && pkg.Path() == from.Path() || pkg.Path() == "main" {
			return ""
		}
		return pkg.Name()
	})
}

// choose returns the matches that begin with prefix, or, if there are none,
// those that do so with other capitals. A name stands once, as first found.
func choose(all []Match, prefix string) []Match {
	chosen := filter(all, func(text string) bool { return strings.HasPrefix(text, prefix) })
	if len(chosen) == 0 {
		lower := strings.ToLower(prefix)
		chosen = filter(all, func(text string) bool { return strings.HasPrefix(strings.ToLower(text), lower) })
	}
	sort.SliceStable(chosen, func(i, j int) bool {
		if a, b := chosen[i].rank, chosen[j].rank; a != b {
			return a < b
		}
		return chosen[i].Text < chosen[j].Text
	})
	return chosen
}

func filter(all []Match, keep func(string) bool) []Match {
	var kept []Match
	seen := make(map[string]bool)
	for _, m := range all {
		if !seen[m.Text] && m.Text != "_" && keep(m.Text) {
			seen[m.Text] = true
			kept = append(kept, m)
		}
	}
	return kept
}
