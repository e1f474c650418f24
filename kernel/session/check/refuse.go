package check

import (
	"fmt"
	"go/ast"
	"go/types"

	"cobber/kernel/diag"
)

// Codes of what this package reports. Faults that go/types finds get Undefined
// where a name is not known, Mismatch for all else.
const (
	// Undefined: a name, or a field or method, is not known.
	Undefined = "name"
	// Mismatch: Go's types do not allow it.
	Mismatch = "type"
	// Redeclared: a name is declared twice in a cell.
	Redeclared = "redeclared"
	// Unused: a local variable is declared and not used.
	Unused = "unused"
	// Misuse: the left side of := is not in order.
	Misuse = "define"
	// UnknownImport: no package of that path can be imported.
	UnknownImport = "import"
	// BadUnit: the unit of a quantity literal is not known.
	BadUnit = "unit"
	// Dimensions: quantities of unlike dimensions are added or compared.
	Dimensions = "dimension"
)

// Codes of what Go allows and a cell does not.
const (
	RefusedImport     = "refused-import"
	RefusedMethod     = "refused-method"
	RefusedBody       = "refused-body"
	RefusedType       = "refused-quantity-type"
	RefusedConstant   = "refused-quantity-constant"
	RefusedConversion = "refused-quantity-conversion"
	RefusedOperator   = "refused-quantity-operator"
	RefusedKey        = "refused-quantity-key"
	RefusedEarlier    = "refused-earlier"
	RefusedUnsafe     = "refused-unsafe"
	RefusedBareZero   = "refused-bare-zero"
)

// Refusal is something that Go allows and a cell does not, with what to write
// instead. A test runs each Example.
type Refusal struct {
	Code, Summary, Instead string
	Example                []string // cells; the last one is refused
}

// Refusals is all of them.
var Refusals = []Refusal{
	{RefusedImport, "package %s cannot be used in a cell", "%s",
		[]string{`import "C"`}},
	{RefusedUnsafe, "unsafe.%s cannot be used in a cell", "Cells work on values, not on memory; of package unsafe they have Sizeof, Alignof and Offsetof. Use encoding/binary or math.Float64bits for layouts of bits.",
		[]string{`import "unsafe"`, "x := 1.5", "*(*uint64)(unsafe.Pointer(&x))"}},
	{RefusedMethod, "%s was declared in an earlier cell: it cannot get a method here",
		"Declare the methods of %[1]s in the cell that declares %[1]s, and run that cell again.",
		[]string{"type T struct{ n int }", "func (t T) double() int { return 2 * t.n }"}},
	{RefusedBody, "function %s has no body", "Write the body of the function: a cell has no other place for it.",
		[]string{"func f(x float64) float64"}},
	{RefusedType, "type %s cannot be made from quantity.Quantity: it would lose the operators and the unit",
		"Use quantity.Quantity itself, or an alias: type %[1]s = quantity.Quantity.",
		[]string{"type Mass quantity.Quantity"}},
	{RefusedConstant, "constant %s cannot be a quantity: Go's constants carry no unit",
		"Use a variable: %[1]s := ...",
		[]string{"const q quantity.Quantity = 3"}},
	{RefusedConversion, "cannot convert %s to %s: a conversion would hide its unit", "%s",
		[]string{"q := 3`t`", "float64(q)"}},
	{RefusedOperator, "%s is not defined on a quantity", "%s",
		[]string{"q := 3`t`", "complex(q, q)"}},
	{RefusedKey, "%s cannot be the key of a map: 1 t and 1000 kg are equal, and would be two keys",
		"Use the number in one unit as the key, from q.Value(\"unit\"), or a name.",
		[]string{"m := map[quantity.Quantity]string{}"}},
	{RefusedBareZero, "%s: 0 has no unit: the field would count as one that was never set",
		"Write 0 with its unit, such as 0`m/s²` or 0`%`, or leave the field out.",
		[]string{"f := place.Place{Gravity: 0}"}},
	{RefusedEarlier, "%s is read here as the function of an earlier cell and defined anew in the same cell",
		"Give the new variable another name.",
		[]string{"func f() int { return 1 }", "f := f()"}},
}

var refusedImports = map[string]string{
	"C": "C code cannot run in a cell. Use Go's own packages.",
}

// Refuse reports a refusal at a node of the cell. The arguments fill its texts:
// the summary takes as many as it has verbs, the advice the same or the last.
func (t *Tree) Refuse(code string, at ast.Node, args ...any) {
	t.faults = append(t.faults, t.refusal(code, at, args...))
}

func (t *Tree) refusal(code string, at ast.Node, args ...any) diag.Diagnostic {
	for _, r := range Refusals {
		if r.Code != code {
			continue
		}
		d := t.diagnostic(diag.Diagnostic{Code: code}, at, "")
		switch code {
		case RefusedImport:
			d.Summary = fmt.Sprintf(r.Summary, at.(*ast.BasicLit).Value)
			d.Detail = fmt.Sprintf(r.Instead, args...)
		case RefusedConversion:
			d.Summary = fmt.Sprintf(r.Summary, args[0], args[1])
			d.Detail = fmt.Sprintf(r.Instead, args[2])
		case RefusedOperator:
			d.Summary = fmt.Sprintf(r.Summary, args[0])
			d.Detail = fmt.Sprintf(r.Instead, args[1])
		case RefusedBody, RefusedEarlier, RefusedKey, RefusedUnsafe, RefusedBareZero:
			d.Summary, d.Detail = fmt.Sprintf(r.Summary, args...), r.Instead
		default:
			d.Summary, d.Detail = fmt.Sprintf(r.Summary, args...), fmt.Sprintf(r.Instead, args...)
		}
		return d
	}
	panic("no refusal has the code " + code)
}

// refuseDecls refuses what can be seen before types are known.
func (t *Tree) refuseDecls(state *State) {
	for _, d := range t.Cell.Decls {
		f, ok := d.(*ast.FuncDecl)
		if !ok {
			continue
		}
		if f.Body == nil {
			t.Refuse(RefusedBody, f.Name, f.Name.Name)
		}
		if f.Recv == nil || len(f.Recv.List) == 0 {
			continue
		}
		base := receiverBase(f.Recv.List[0].Type)
		if base == nil || t.Declared[base.Name] {
			continue
		}
		if known, ok := state.Lookup(base.Name); ok {
			if _, isType := known.Object.(*types.TypeName); isType {
				t.Refuse(RefusedMethod, base, base.Name)
				t.drop(f)
			}
		}
	}
}

// drop takes a declaration out of the file: what is wrong with it was said.
func (t *Tree) drop(d ast.Decl) {
	for i, other := range t.decls {
		if other == d {
			t.decls = append(t.decls[:i:i], t.decls[i+1:]...)
			return
		}
	}
}

func receiverBase(x ast.Expr) *ast.Ident {
	switch x := x.(type) {
	case *ast.Ident:
		return x
	case *ast.ParenExpr:
		return receiverBase(x.X)
	case *ast.StarExpr:
		return receiverBase(x.X)
	case *ast.IndexExpr:
		return receiverBase(x.X)
	case *ast.IndexListExpr:
		return receiverBase(x.X)
	}
	return nil
}
