package check

import (
	"go/ast"
	"go/types"
	"sort"
	"strconv"
	"strings"

	"cobber/kernel/diag"
)

// advise adds to a fault its class and what to do about it.
func (r *Round) advise(d *diag.Diagnostic, err types.Error) {
	switch codeOf(err) {
	case codeDuplicateDecl:
		d.Code = Redeclared
	case codeUndeclaredName:
		d.Code = Undefined
		d.Detail = join(d.Detail, r.adviseName(err))
	case codeUndeclaredImportedName, codeUnexportedName:
		d.Code = Undefined
		d.Detail = join(d.Detail, r.adviseMember(err))
	case codeMissingFieldOrMethod:
		d.Code = Undefined
		d.Detail = join(d.Detail, r.adviseField(d.Summary, err))
	case codeUnusedVar:
		d.Code = Unused
		d.Detail = "Use it, or write _ for it. Only names at the top of a cell may stay unused."
	default:
		d.Detail = join(d.Detail, r.adviseQuantity(d.Summary))
	}
	if strings.Contains(err.Msg, "main.") && strings.Contains(d.Summary, " of cell") {
		d.Detail = join(d.Detail, "The type was declared again since: run the cell that made the value once more.")
	}
}

// adviseName proposes what an unknown name may have meant.
func (r *Round) adviseName(err types.Error) string {
	name := strings.TrimPrefix(err.Msg, "undefined: ")
	if r.isSelected(err) {
		if path := pathOf(name); path != "" {
			return "Add import " + strconv.Quote(path) + "."
		}
	}
	return didYouMean(nearest(name, r.namesAt(err)))
}

// isSelected tells whether the name at the error is the X of some X.Sel.
func (r *Round) isSelected(err types.Error) bool {
	found := false
	ast.Inspect(r.Tree.File, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok {
			if id, ok := sel.X.(*ast.Ident); ok && id.Pos() == err.Pos {
				found = true
			}
		}
		return !found
	})
	return found
}

// namesAt returns every name that is known at the place of an error.
func (r *Round) namesAt(err types.Error) []string {
	names := r.State.Names()
	for name := range library {
		names = append(names, name)
	}
	for name := range r.Tree.imports {
		names = append(names, name)
	}
	scope := r.Package.Scope()
	for _, s := range r.Info.Scopes {
		if s.Contains(err.Pos) && len(s.Names()) > 0 {
			names = append(names, s.Names()...)
		}
	}
	return append(append(names, scope.Names()...), types.Universe.Names()...)
}

// adviseMember proposes names of a package.
func (r *Round) adviseMember(err types.Error) string {
	sel := r.selectorAt(err)
	if sel == nil {
		return ""
	}
	id, ok := sel.X.(*ast.Ident)
	if !ok {
		return ""
	}
	pkg, ok := r.Info.Uses[id].(*types.PkgName)
	if !ok {
		return ""
	}
	var names []string
	for _, name := range pkg.Imported().Scope().Names() {
		if ast.IsExported(name) {
			names = append(names, name)
		}
	}
	return didYouMean(prefixAll(id.Name+".", nearest(sel.Sel.Name, names)))
}

// adviseField proposes fields and methods, unless Go's own text does.
func (r *Round) adviseField(summary string, err types.Error) string {
	sel := r.selectorAt(err)
	if sel == nil || strings.Contains(summary, "but does have") {
		return ""
	}
	tv, ok := r.Info.Types[sel.X]
	if !ok || tv.Type == nil {
		return ""
	}
	var names []string
	for _, m := range membersOf(tv.Type, r.Package) {
		names = append(names, m.Name())
	}
	return didYouMean(nearest(sel.Sel.Name, names))
}

// selectorAt returns the selector whose selected name is at the error.
func (r *Round) selectorAt(err types.Error) (found *ast.SelectorExpr) {
	ast.Inspect(r.Tree.File, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok && (sel.Sel.Pos() == err.Pos || sel.Pos() == err.Pos && found == nil) {
			found = sel
		}
		return true
	})
	return found
}

// adviseQuantity says what to write where quantities and numbers do not fit.
func (r *Round) adviseQuantity(summary string) string {
	const quantity = "quantity.Quantity"
	switch {
	case !strings.Contains(summary, quantity):
		return ""
	case strings.Contains(summary, "invalid composite literal type "+quantity):
		return "The zero value is var q quantity.Quantity; a quantity is written as 3.5`t/h`, or made by quantity.New."
	case strings.Contains(summary, "as "+quantity+" value"):
		return "Write quantity.Number(x) for a number without a unit, or quantity.New(x, \"unit\")."
	case strings.Contains(summary, "(type "+quantity+")"), strings.Contains(summary, "of type "+quantity), strings.Contains(summary, "value of struct type "+quantity):
		if strings.Contains(summary, "is not constant") {
			return "A quantity is no constant of Go: define it with :=."
		}
		if strings.Contains(summary, "cannot use") {
			return "q.Value(\"unit\") gives the number in a unit; q.Float() that of a quantity without a dimension."
		}
	}
	return ""
}

func prefixAll(prefix string, names []string) []string {
	var out []string
	for _, n := range names {
		out = append(out, prefix+n)
	}
	return out
}

func didYouMean(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return "Did you mean " + strings.Join(names, " or ") + "?"
}

// nearest returns the candidates that differ least from a word, at most three.
func nearest(word string, candidates []string) []string {
	limit := 1 + len([]rune(word))/4
	best := make(map[string]int)
	for _, c := range candidates {
		if c == word || c == "_" || strings.Contains(c, "·") {
			continue
		}
		d := distance(word, c)
		if strings.EqualFold(word, c) {
			d = 0
		}
		if d <= limit && d < len([]rune(word)) {
			best[c] = d
		}
	}
	names := make([]string, 0, len(best))
	for c := range best {
		names = append(names, c)
	}
	sort.Slice(names, func(i, j int) bool {
		if best[names[i]] != best[names[j]] {
			return best[names[i]] < best[names[j]]
		}
		return names[i] < names[j]
	})
	for i, name := range names {
		if best[name] > best[names[0]] || i == 3 {
			return names[:i]
		}
	}
	return names
}

// distance counts the letters to insert, remove, change or swap with their
// neighbour that lead from one word to the other.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	var before, above []int
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(x); i++ {
		before, above, row = above, row, make([]int, len(y)+1)
		row[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(above[j]+1, row[j-1]+1, above[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
	}
	return row[len(y)]
}
