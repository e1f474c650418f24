package program

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/printer"
	"go/token"
	"go/types"
	"slices"
	"strings"

	"cobber/kernel/session/check"
	"cobber/kernel/session/parse"
)

// cell writes the declarations of a cell and the function of its statements.
func (w *writer) cell(c *checked) error {
	file := c.program.Files[0]
	for _, d := range file.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Name.Name == c.program.Entry {
				c.entry = d
				continue
			}
			if d.Recv == nil && d.Name.Name == "init" {
				return &Unwritable{c.Name, "it declares func init", "A program would run it before the first cell: call a function of another name"}
			}
		case *ast.GenDecl:
			if d.Tok == token.VAR {
				continue // stands for what the statements define
			}
		}
		text, err := w.print(c, d)
		if err != nil {
			return err
		}
		fmt.Fprintf(&w.functions, "%s\n\n", text)
	}
	if err := w.variables(c); err != nil {
		return err
	}
	return w.function(c)
}

// variables declares what the cell defines, unless an earlier cell has.
func (w *writer) variables(c *checked) error {
	for _, fresh := range c.program.Fresh {
		v := fresh.Var
		if c.program.Reuse[v] != nil {
			continue
		}
		kind, err := w.typeName(c, v)
		if err != nil {
			return err
		}
		name := w.nameOf(c.program, v)
		fmt.Fprintf(&w.declarations, "var %s %s // of %s\n", name, kind, c.Name)
		if isPlain(v.Type()) {
			w.results = append(w.results, fmt.Sprintf("programResult{%q, &%s}", name, name))
		}
	}
	w.declarations.WriteString("\n")
	return nil
}

// isPlain tells what can stand in one field of a table: numbers, texts, truths
// and quantities.
func isPlain(t types.Type) bool {
	if _, basic := types.Unalias(t).(*types.Basic); basic {
		return true
	}
	return check.IsQuantity(t)
}

// typeName writes a type as the program says it.
func (w *writer) typeName(c *checked, v *types.Var) (string, error) {
	hidden, again := "", ""
	text := types.TypeString(v.Type(), func(p *types.Package) string {
		if p.Path() == c.program.Package.Path() {
			return ""
		}
		w.used[p.Path()] = true
		if w.imports[p.Path()] == "" {
			w.importAs(p, p.Name(), nil)
		}
		return w.imports[p.Path()]
	})
	eachNamed(v.Type(), func(n *types.TypeName) {
		switch {
		case n.Pkg() == nil:
		case n.Pkg().Path() != c.program.Package.Path():
			if !n.Exported() {
				hidden = n.Pkg().Name() + "." + n.Name()
			}
		case w.written[n] != n.Name():
			again = n.Name()
		}
	})
	if again != "" {
		return "", &Unwritable{c.Name, "it has a variable of the type " + again + ", and another cell declares that name too", "Give one of the types another name"}
	}
	if hidden != "" {
		return "", &Unwritable{c.Name, fmt.Sprintf("%s has the type %s, which only its package can write", v.Name(), hidden),
			"Give it an interface type: var " + v.Name() + " any"}
	}
	return text, nil
}

func eachNamed(t types.Type, f func(*types.TypeName)) {
	switch t := t.(type) {
	case *types.Named:
		f(t.Obj())
	case *types.Pointer:
		eachNamed(t.Elem(), f)
	case *types.Slice:
		eachNamed(t.Elem(), f)
	case *types.Array:
		eachNamed(t.Elem(), f)
	case *types.Chan:
		eachNamed(t.Elem(), f)
	case *types.Map:
		eachNamed(t.Key(), f)
		eachNamed(t.Elem(), f)
	}
}

// function writes the statements of a cell as a function.
func (w *writer) function(c *checked) error {
	name := fmt.Sprintf("cell%d", c.Count)
	for w.taken[name] {
		name += "x"
	}
	w.taken[name] = true
	_, isInputs := c.parsed.Has(parse.Inputs)
	fmt.Fprintf(&w.order, "runCell(%q, %s, %v)\n", c.Name, name, c.MayFail)
	for line := range strings.Lines(c.Heading) {
		fmt.Fprintf(&w.functions, "// %s\n", strings.TrimSpace(line))
	}
	if c.Heading != "" {
		w.functions.WriteString("\n")
	}
	fmt.Fprintf(&w.functions, "// %s is %s of the notebook.\nfunc %s() {\n", name, c.Name, name)
	remarks := c.remarks()
	for _, s := range c.entry.Body.List {
		if isProgress(s) {
			continue
		}
		remarks = w.remarksBefore(c, remarks, s.Pos())
		line := w.line(s.End())
		text, err := w.statement(c, s)
		if err != nil {
			return err
		}
		if len(remarks) > 0 && w.line(remarks[0].Slash) == line && strings.HasPrefix(remarks[0].Text, "//") {
			text, remarks = text+" "+remarks[0].Text, remarks[1:]
		}
		w.functions.WriteString(text + "\n")
		if isInputs {
			w.input(c, s)
		}
	}
	w.remarksBefore(c, remarks, c.entry.Body.Rbrace+1)
	w.functions.WriteString("}\n\n")
	return nil
}

func (w *writer) line(pos token.Pos) int { return w.state.Set.Fset.Position(pos).Line }

func isProgress(s ast.Stmt) bool {
	a, ok := s.(*ast.AssignStmt)
	return ok && len(a.Lhs) == 1 && isHidden(a.Lhs[0], "progress·")
}

func isHidden(x ast.Expr, prefix string) bool {
	id, ok := x.(*ast.Ident)
	return ok && strings.HasPrefix(id.Name, prefix)
}

// statement writes one statement: the last expression is shown, and a hook is
// written as what it does.
func (w *writer) statement(c *checked, s ast.Stmt) (string, error) {
	switch s := s.(type) {
	case *ast.AssignStmt:
		if isHidden(s.Lhs[0], "result·") {
			text, err := w.print(c, &ast.ExprStmt{X: s.Rhs[0]})
			return "showResult(" + text + ")", err
		}
	case *ast.ExprStmt:
		call, ok := s.X.(*ast.CallExpr)
		if ok && isHidden(call.Fun, check.NameInput) {
			variable := call.Args[1].(*ast.UnaryExpr).X.(*ast.Ident)
			name := w.object(c, c.program.Info.Uses[variable])
			return fmt.Sprintf("%s = %s.NamedOnce(%s)", name, name, call.Args[0].(*ast.BasicLit).Value), nil
		}
	}
	return w.print(c, s)
}

// input lets a flag set what a statement of a cell of inputs has assigned.
func (w *writer) input(c *checked, s ast.Stmt) {
	a, ok := s.(*ast.AssignStmt)
	if !ok {
		return
	}
	for _, x := range a.Lhs {
		id, ok := x.(*ast.Ident)
		if !ok || !c.defines[id.NamePos] {
			continue
		}
		v, ok := c.program.Info.Uses[id].(*types.Var)
		if !ok || !isPlain(v.Type()) || !slices.ContainsFunc(c.program.Fresh, func(f check.Fresh) bool { return f.Var == v }) {
			continue
		}
		name := w.nameOf(c.program, v)
		fmt.Fprintf(&w.functions, "setInput(%q, &%s)\n", v.Name(), name)
		if line := fmt.Sprintf("declareInput(%q, %q)", v.Name(), c.Name); !slices.Contains(w.inputs, line) {
			w.inputs = append(w.inputs, line)
		}
	}
}

// print writes a statement or declaration as plain Go, with the comments that
// stand within it.
func (w *writer) print(c *checked, node ast.Node) (string, error) {
	node = c.lower.apply(node)
	if c.lower.problem != "" {
		return "", &Unwritable{c.Name, c.lower.problem, "Write it with methods of the quantity, or with if and else"}
	}
	w.rename(c, node)
	var b bytes.Buffer
	config := printer.Config{Mode: printer.UseSpaces | printer.TabIndent, Tabwidth: 8}
	err := config.Fprint(&b, w.state.Set.Fset, &printer.CommentedNode{Node: node, Comments: c.comments()})
	return b.String(), err
}

// comments are those of the cell, as the printer wants them: it chooses.
func (c *checked) comments() []*ast.CommentGroup {
	var list []*ast.CommentGroup
	for _, comment := range c.parsed.Comments {
		list = append(list, &ast.CommentGroup{List: []*ast.Comment{{Slash: c.parsed.Pos(comment.Offset), Text: comment.Text}}})
	}
	return list
}

// remarks are the comments that stand in no statement and in or above no
// declaration.
func (c *checked) remarks() []*ast.Comment {
	var list []*ast.Comment
	for _, group := range c.comments() {
		comment, inside := group.List[0], false
		for _, n := range c.pieces {
			inside = inside || n[0] <= comment.Slash && comment.Slash < n[1]
		}
		if !inside {
			list = append(list, comment)
		}
	}
	return list
}

// measure notes where the statements and declarations of a cell stand, and what
// they define, before lowering moves them.
func (c *checked) measure() {
	for _, d := range c.parsed.Decls {
		from := d.Pos()
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Doc != nil {
				from = d.Doc.Pos()
			}
		case *ast.GenDecl:
			if d.Doc != nil {
				from = d.Doc.Pos()
			}
		}
		c.pieces = append(c.pieces, [2]token.Pos{from, d.End()})
	}
	for _, s := range c.parsed.Statements {
		switch s := s.(type) {
		case *ast.AssignStmt:
			for _, x := range s.Lhs {
				c.defines[x.Pos()] = s.Tok == token.DEFINE
			}
		case *ast.DeclStmt:
			for _, spec := range s.Decl.(*ast.GenDecl).Specs {
				if values, ok := spec.(*ast.ValueSpec); ok {
					for _, id := range values.Names {
						c.defines[id.NamePos] = true
					}
				}
			}
		}
		c.pieces = append(c.pieces, [2]token.Pos{s.Pos(), s.End()})
	}
	if c.parsed.Final != nil {
		c.pieces = append(c.pieces, [2]token.Pos{c.parsed.Final.Pos(), c.parsed.Final.End()})
	}
}

// remarksBefore writes the comments that stand before a place, and returns the
// others.
func (w *writer) remarksBefore(c *checked, list []*ast.Comment, pos token.Pos) []*ast.Comment {
	for len(list) > 0 && list[0].Slash < pos {
		w.functions.WriteString(list[0].Text + "\n")
		list = list[1:]
	}
	return list
}

// rename writes every name as the program has it.
func (w *writer) rename(c *checked, node ast.Node) {
	selected := map[*ast.Ident]bool{}
	ast.Inspect(node, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			selected[n.Sel] = true
		case *ast.KeyValueExpr:
			if id, ok := n.Key.(*ast.Ident); ok && isField(c.program.Info.Uses[id]) {
				selected[id] = true
			}
		case *ast.Ident:
			if !selected[n] {
				w.renameIdent(c, n)
			}
		}
		return true
	})
}

func isField(object types.Object) bool {
	v, ok := object.(*types.Var)
	return ok && v.IsField()
}

func (w *writer) renameIdent(c *checked, id *ast.Ident) {
	switch id.Name {
	case parse.Quantities:
		id.Name = w.use(check.QuantityPath, "quantity")
		return
	case check.QuantityType:
		id.Name = w.use(check.QuantityPath, "quantity") + ".Quantity"
		return
	case mathName:
		id.Name = w.use("math", "math")
		return
	}
	object := c.program.Info.Uses[id]
	if object == nil {
		object = c.program.Info.Defs[id]
	}
	switch object := object.(type) {
	case nil:
	case *types.PkgName:
		id.Name = w.use(object.Imported().Path(), object.Imported().Name())
	default:
		if name := w.object(c, object); name != "" {
			id.Name = name
		} else if strings.HasSuffix(id.Name, "·") {
			id.Name = strings.TrimSuffix(id.Name, "·")
		}
	}
}

// use is the name of an import, which the program has from now on.
func (w *writer) use(path, name string) string {
	w.used[path] = true
	if w.imports[path] == "" {
		w.imports[path] = name
	}
	return w.imports[path]
}

// object is the name of what a session or an imported package declares; empty
// for what is declared within a function.
func (w *writer) object(c *checked, object types.Object) string {
	if object == nil || object.Pkg() == nil || object.Parent() != object.Pkg().Scope() {
		return ""
	}
	if object.Pkg().Path() != c.program.Package.Path() { // by a dot import
		return w.use(object.Pkg().Path(), object.Pkg().Name()) + "." + object.Name()
	}
	if v, ok := object.(*types.Var); ok {
		if earlier := c.program.Reuse[v]; earlier != nil {
			return w.object(c, earlier)
		}
	}
	if name, ok := w.written[object]; ok {
		return name
	}
	plain := strings.TrimSuffix(object.Name(), check.Earlier)
	if plain == object.Name() {
		return ""
	}
	return w.earlier(c, plain)
}

// earlier is what a constant or type of that name was before the cell.
func (w *writer) earlier(c *checked, name string) string {
	found := ""
	for _, other := range w.cells {
		if other == c {
			break
		}
		if object := other.program.Defines[name]; object != nil {
			found = w.written[object]
		}
	}
	return found
}
