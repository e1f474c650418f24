package program

import (
	"bytes"
	_ "embed"
	"fmt"
	"go/ast"
	"go/format"
	"go/token"
	"go/types"
	"maps"
	"slices"
	"strings"

	"cobber/kernel/session/check"
	"cobber/kernel/session/parse"
	"cobber/kernel/session/rewrite"
	"cobber/kernel/source"
)

// A Cell is one code cell.
type Cell struct {
	source.Cell
	MayFail bool   // it may fail without ending the program
	Heading string // what stands above it in the notebook; may be empty
}

// support is what every program has beside its cells.
//
//go:embed support.txt
var support string

// Write returns the files of the program by their names. The error is a diag.List
// where a cell does not check, else an *Unwritable.
func Write(name string, cells []Cell) (map[string][]byte, error) {
	w := &writer{name: name, state: check.NewState(source.NewSet()), written: map[types.Object]string{}, imports: map[string]string{}}
	for _, cell := range cells {
		if err := w.check(cell); err != nil {
			return nil, err
		}
	}
	w.chooseNames()
	for _, c := range w.cells {
		if err := w.cell(c); err != nil {
			return nil, err
		}
	}
	main, err := w.main()
	if err != nil {
		return nil, err
	}
	return map[string][]byte{"main.go": main, "support.go": []byte(support)}, nil
}

// An Unwritable says why a cell cannot be part of a program.
type Unwritable struct{ Cell, Problem, Advice string }

func (e *Unwritable) Error() string { return e.Cell + ": " + e.Problem + ". " + e.Advice }

// A checked cell is in the form that go/types has accepted.
type checked struct {
	Cell
	parsed  *parse.Cell
	program *check.Program
	entry   *ast.FuncDecl
	lower   *lowering
	pieces  [][2]token.Pos
	defines map[token.Pos]bool // where names are given their first values
}

// A writer writes one program.
type writer struct {
	name  string
	state *check.State
	cells []*checked

	written map[types.Object]string // the names that objects of the session have in the program
	taken   map[string]bool
	local   map[string]bool   // names within functions, which would hide a new one of the program
	imports map[string]string // path -> the name of the import in the program; empty until it is used
	blank   map[string]bool   // imported for what they do at the start
	used    map[string]bool   // paths

	declarations, functions, order bytes.Buffer
	results                        []string
	inputs                         []string
}

// check checks a cell as the session would, and takes over what it binds.
func (w *writer) check(cell Cell) error {
	parsed, err := parse.Parse(w.state.Set, cell.Cell)
	if err != nil {
		return err
	}
	c := &checked{Cell: cell, parsed: parsed, defines: map[token.Pos]bool{}}
	c.measure()
	if parsed.Program {
		return &Unwritable{cell.Name, "it is a whole program", "Save it as a file of its own, and leave the cell out by the tag remove-cell"}
	}
	if c.program, err = rewrite.Cell(w.state, parsed, rewrite.Options{}); err != nil {
		return err
	}
	c.lower = newLowering(c.program, w.state.Importer.Quantity())
	next := w.state.Copy()
	next.Commit(c.program, c.program.Statements+1)
	w.state = next
	w.cells = append(w.cells, c)
	for later := range c.program.Replaces {
		return &Unwritable{cell.Name, "it declares the function " + later.Name() + " anew, which an earlier cell has declared",
			"In a program a function is declared once: give the second another name"}
	}
	return nil
}

// Names that support.go declares, and names of its imports, which no variable of
// the package may have.
var (
	supportNames = []string{"main", "init", "givenInputs", "inputSet", "resultsFlag", "quietFlag", "declareInput", "startProgram", "listenToCells",
		"showResult", "showValues", "failProgram", "runCell", "setInput", "programResult", "finishProgram", "fieldText", "changingMutex", "changing", "lastValues", "showEvent", "showChanged", "zeroQuantity", "isGreater", "isAtMost", "isAtLeast", "ofOne", "ofTwo", "ofAngle", "throughNumbers"}
	supportImports = []string{"csv", "flag", "fmt", "os", "runtime", "debug", "strconv", "strings", "display", "inputs", "quantity", "sh", "sync", "math"}
)

// chooseNames gives every object that the session knows by name one in the
// program: its own, unless an import, a builtin or another object has it.
func (w *writer) chooseNames() {
	w.taken, w.used, w.blank = map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, name := range slices.Concat(supportNames, supportImports, types.Universe.Names()) {
		w.taken[name] = true
	}
	local := map[string]bool{}
	w.local = local
	for _, c := range w.cells {
		for id, object := range c.program.Info.Defs {
			if object != nil && object.Parent() != c.program.Package.Scope() {
				local[id.Name] = true
			}
		}
	}
	for _, c := range w.cells {
		for id, object := range c.program.Info.Uses {
			if pkg, ok := object.(*types.PkgName); ok {
				w.importAs(pkg.Imported(), strings.TrimSuffix(id.Name, check.Earlier), local)
			} else if object.Pkg() != nil && object.Pkg().Path() != c.program.Package.Path() {
				w.importAs(object.Pkg(), object.Pkg().Name(), local)
			}
		}
	}
	for _, c := range w.cells {
		for _, name := range slices.Sorted(maps.Keys(c.program.Defines)) {
			w.nameOf(c.program, c.program.Defines[name])
		}
		for name, path := range c.program.Imports {
			if name == "_" {
				w.blank[path] = true
			}
		}
	}
}

// importAs reserves a name for an import: the one by which the cells call it.
func (w *writer) importAs(pkg *types.Package, name string, local map[string]bool) {
	if w.imports[pkg.Path()] != "" {
		return
	}
	if name == parse.Quantities || name == "" || name == "." || name == "_" {
		name = pkg.Name()
	}
	free := name
	for n := 2; w.isImport(free) || slices.Contains(supportNames, free) || name == "quantity" && local[free]; n++ {
		free = fmt.Sprintf("%s%d", name, n)
	}
	w.imports[pkg.Path()] = free
	w.taken[free] = true
}

func (w *writer) isImport(name string) bool {
	for _, taken := range w.imports {
		if taken == name {
			return true
		}
	}
	return false
}

// nameOf chooses the name of an object. A variable that is bound again with its
// type stays the same variable.
func (w *writer) nameOf(p *check.Program, object types.Object) string {
	if name, ok := w.written[object]; ok {
		return name
	}
	if v, ok := object.(*types.Var); ok {
		if earlier := p.Reuse[v]; earlier != nil {
			w.written[object] = w.nameOf(p, earlier)
			return w.written[object]
		}
	}
	free := object.Name()
	for n := 2; w.taken[free] || free != object.Name() && w.local[free]; n++ {
		free = fmt.Sprintf("%s%d", object.Name(), n)
	}
	w.taken[free] = true
	w.written[object] = free
	return free
}

// main puts the parts together.
func (w *writer) main() ([]byte, error) {
	var b bytes.Buffer
	fmt.Fprintf(&b, "// Command %s does what the notebook of that name does. It was written by\n// \"cobber build\", which writes it again when the notebook changes.\npackage main\n\nimport (\n", w.name)
	w.used[check.QuantityPath] = true
	if w.imports[check.QuantityPath] == "" {
		w.imports[check.QuantityPath] = "quantity"
	}
	for _, path := range slices.Sorted(maps.Keys(w.used)) {
		name := w.imports[path]
		if path == name || strings.HasSuffix(path, "/"+name) {
			name = ""
		}
		fmt.Fprintf(&b, "%s %q\n", name, path)
	}
	for _, path := range slices.Sorted(maps.Keys(w.blank)) {
		fmt.Fprintf(&b, "_ %q\n", path)
	}
	fmt.Fprintf(&b, ")\n\nvar _ %s.Quantity\n\n", w.imports[check.QuantityPath])
	b.WriteString("func main() {\n")
	for _, input := range w.inputs {
		b.WriteString(input + "\n")
	}
	b.WriteString("startProgram()\n")
	b.Write(w.order.Bytes())
	b.WriteString("finishProgram(\n")
	for _, result := range w.results {
		b.WriteString(result + ",\n")
	}
	b.WriteString(")\n}\n\n")
	b.Write(w.declarations.Bytes())
	b.Write(w.functions.Bytes())
	text, err := format.Source(b.Bytes())
	if err != nil {
		return nil, fmt.Errorf("the program could not be written: %w\n%s", err, b.String())
	}
	return text, nil
}
