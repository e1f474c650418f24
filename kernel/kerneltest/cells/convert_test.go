package cells

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/scanner"
	"go/token"
	"strconv"
	"strings"
)

// convert makes the plain Go program that means what the cells mean: imports
// merged, declarations at the top level, the statements of each cell in a block
// of main inside the block of the cell before, so that names can be bound
// again. It shares no code with the kernel, so that both cannot be wrong alike.
func convert(cells []string) (string, error) {
	c := converter{used: map[string]bool{}, results: map[string]bool{}}
	for i, cell := range cells {
		items, err := split(cell)
		if err != nil {
			return "", fmt.Errorf("cell %d: %v", i+1, err)
		}
		for _, it := range items {
			c.collect(it)
		}
		c.cells = append(c.cells, items)
	}
	return c.program(), nil
}

// An item is one import, declaration or statement at the top of a cell.
type item struct {
	text    string
	line    int
	declare ast.Decl // nil: a statement
	stmts   []ast.Stmt
	names   []string // names a statement binds
}

// split cuts a cell at the semicolons, written or implied, outside all
// brackets, where what stands before can be parsed by itself; so a semicolon in
// the header of a for or if does not cut.
func split(cell string) ([]item, error) {
	fset := token.NewFileSet()
	file := fset.AddFile("", -1, len(cell))
	var sc scanner.Scanner
	sc.Init(file, []byte(cell), nil, 0)
	var items []item
	start, end, depth := -1, 0, 0
	for {
		pos, tok, lit := sc.Scan()
		offset := file.Offset(pos)
		if start < 0 && tok != token.SEMICOLON && tok != token.EOF {
			start = offset
		}
		switch tok {
		case token.LPAREN, token.LBRACE, token.LBRACK:
			depth++
		case token.RPAREN, token.RBRACE, token.RBRACK:
			depth--
		}
		isEnd := tok == token.EOF || tok == token.SEMICOLON && depth == 0
		if isEnd && start >= 0 {
			if one, ok := parseItem(cell[start:end]); ok {
				one.line = file.Line(file.Pos(start))
				items = append(items, one)
				start = -1
			}
		}
		if tok == token.EOF {
			if start >= 0 {
				return nil, fmt.Errorf("cannot parse %q", cell[start:])
			}
			return items, nil
		}
		if tok != token.SEMICOLON {
			end = offset + len(lit)
			if tok.IsOperator() {
				end = offset + len(tok.String())
			}
		} else if lit == ";" {
			end = offset + 1
		}
	}
}

func parseItem(text string) (item, bool) {
	if file, err := parser.ParseFile(token.NewFileSet(), "", "package p\n"+text, parser.SkipObjectResolution); err == nil {
		if len(file.Decls) != 1 {
			return item{}, false
		}
		if d, ok := file.Decls[0].(*ast.GenDecl); !ok || d.Tok != token.VAR {
			return item{text: text, declare: file.Decls[0]}, true
		}
	}
	file, err := parser.ParseFile(token.NewFileSet(), "", "package p\nfunc _() {\n"+text+"\n}", parser.SkipObjectResolution)
	if err != nil {
		return item{}, false
	}
	one := item{text: text, stmts: file.Decls[0].(*ast.FuncDecl).Body.List}
	for _, stmt := range one.stmts {
		one.names = append(one.names, boundNames(stmt)...)
	}
	return one, true
}

func boundNames(stmt ast.Stmt) []string {
	var names []string
	add := func(x ast.Expr) {
		if id, ok := x.(*ast.Ident); ok && id.Name != "_" {
			names = append(names, id.Name)
		}
	}
	switch s := stmt.(type) {
	case *ast.AssignStmt:
		if s.Tok == token.DEFINE {
			for _, x := range s.Lhs {
				add(x)
			}
		}
	case *ast.DeclStmt:
		for _, spec := range s.Decl.(*ast.GenDecl).Specs {
			if v, ok := spec.(*ast.ValueSpec); ok {
				for _, id := range v.Names {
					add(id)
				}
			}
		}
	case *ast.LabeledStmt:
		return boundNames(s.Stmt)
	}
	return names
}

type converter struct {
	cells   [][]item
	imports []*ast.ImportSpec
	used    map[string]bool // identifiers that stand before a dot
	results map[string]bool // functions of the story that return something
}

func (c *converter) collect(it item) {
	nodes := []ast.Node{}
	if it.declare != nil {
		nodes = append(nodes, it.declare)
	}
	for _, s := range it.stmts {
		nodes = append(nodes, s)
	}
	for _, node := range nodes {
		ast.Inspect(node, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.SelectorExpr:
				if id, ok := n.X.(*ast.Ident); ok {
					c.used[id.Name] = true
				}
			case *ast.ImportSpec:
				c.imports = append(c.imports, n)
			case *ast.FuncDecl:
				if n.Recv == nil && n.Type.Results != nil {
					c.results[n.Name.Name] = true
				}
			}
			return true
		})
	}
}

func (c *converter) program() string {
	var b strings.Builder
	b.WriteString("package main\n\nimport cellfmt \"fmt\"\n")
	c.writeImports(&b)
	b.WriteString("\nfunc cellValue(values ...any) {\n\tfor _, v := range values {\n\t\tcellfmt.Printf(\"= %v\\n\", v)\n\t}\n}\n\n")
	for i, items := range c.cells {
		for _, it := range items {
			if d, ok := it.declare.(*ast.GenDecl); it.declare == nil || ok && d.Tok == token.IMPORT {
				continue
			}
			fmt.Fprintf(&b, "//line cell %d:%d\n%s\n", i+1, it.line, it.text)
		}
	}
	b.WriteString("\nfunc main() {\n")
	for i, items := range c.cells {
		b.WriteString("{\n")
		for n, it := range items {
			if it.declare == nil {
				c.writeStatement(&b, i+1, it, n == len(items)-1)
			}
		}
	}
	b.WriteString(strings.Repeat("}\n", len(c.cells)) + "}\n")
	return b.String()
}

func (c *converter) writeImports(b *strings.Builder) {
	seen := map[string]bool{}
	for _, spec := range c.imports {
		path, _ := strconv.Unquote(spec.Path.Value)
		name, line := path[strings.LastIndex(path, "/")+1:], spec.Path.Value
		if name == "v2" {
			name = "rand"
		}
		if spec.Name != nil {
			name, line = spec.Name.Name, spec.Name.Name+" "+line
		}
		if (c.used[name] || name == "." || name == "_") && !seen[line] {
			seen[line] = true
			fmt.Fprintf(b, "import %s\n", line)
		}
	}
}

func (c *converter) writeStatement(b *strings.Builder, cell int, it item, last bool) {
	fmt.Fprintf(b, "//line cell %d:%d\n", cell, it.line)
	if last && c.isShown(it) {
		fmt.Fprintf(b, "cellValue(%s)\n", it.text)
		return
	}
	b.WriteString(it.text + "\n")
	for _, name := range it.names {
		fmt.Fprintf(b, "_ = %s\n", name)
	}
}

// isShown says whether an item is an expression whose value the cell shows, as
// far as that can be told without types: of calls only those of the story's
// own functions and of builtins and conversions. Other calls at the end of a
// cell must return nothing, or print.
func (c *converter) isShown(it item) bool {
	if len(it.stmts) != 1 {
		return false
	}
	x, ok := it.stmts[0].(*ast.ExprStmt)
	if !ok {
		return false
	}
	call, ok := ast.Unparen(x.X).(*ast.CallExpr)
	if !ok {
		return true
	}
	switch fun := call.Fun.(type) {
	case *ast.Ident:
		return c.results[fun.Name] || valueBuiltins[fun.Name]
	case *ast.ArrayType, *ast.MapType:
		return true
	}
	return false
}

var valueBuiltins = map[string]bool{
	"append": true, "cap": true, "complex": true, "copy": true, "imag": true, "len": true, "make": true,
	"max": true, "min": true, "new": true, "real": true,
	"bool": true, "byte": true, "float32": true, "float64": true, "int": true, "int8": true, "int16": true,
	"int32": true, "int64": true, "rune": true, "string": true, "uint": true, "uint8": true, "uint16": true,
	"uint32": true, "uint64": true, "complex128": true,
}
