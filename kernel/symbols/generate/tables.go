package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
)

// replaced are names that yaegi's tables bind to something of another meaning
// than Go's own (they panic where Go ends the process, or wrap a type), so they
// are written again.
var replaced = map[string]bool{
	"os.Exit": true, "os.FindProcess": true,
	"log.Fatal": true, "log.Fatalf": true, "log.Fatalln": true,
	"log.Logger": true, "log.New": true,
}

// writeTables writes the names of all packages, and lookups for what yaegi's
// tables lack: all of our own packages, and what Go gained since.
func writeTables(p *packages, out *output) error {
	known, err := readYaegi(p)
	if err != nil {
		return err
	}
	names := newSource(p)
	names.printf("// packageNames is every package with types and values here, by path.\nvar packageNames = []packageName{\n")
	for _, one := range p.all {
		names.printf("\t{%q, %q},\n", one.ImportPath, one.Name)
	}
	names.printf("}\n")
	tables := newSource(p)
	tables.use("reflect")
	tables.printf("func lookupGenerated(path, name string) p_reflect.Value {\n\tswitch path {\n")
	var functions strings.Builder
	count := 0
	for _, one := range p.all {
		lines := tableLines(tables, one, known[one.ImportPath])
		if len(lines) == 0 {
			continue
		}
		count += len(lines)
		lookup := "lookup_" + strings.TrimPrefix(alias(one.ImportPath), "p_")
		tables.printf("\tcase %q:\n\t\treturn %s(name)\n", one.ImportPath, lookup)
		fmt.Fprintf(&functions, "\nfunc %s(name string) p_reflect.Value {\n\tswitch name {\n%s\t}\n\treturn p_reflect.Value{}\n}\n",
			lookup, strings.Join(lines, ""))
	}
	tables.printf("\t}\n\treturn p_reflect.Value{}\n}\n%s", functions.String())
	fmt.Printf("%d names that yaegi's tables lack or change\n", count)
	for path, text := range map[string]*source{"packages": names, "tables": tables} {
		file, err := text.file()
		if err != nil {
			return err
		}
		out.add("kernel/symbols/generated_"+path+".go", file)
	}
	return nil
}

// tableLines writes one case per name that is missing in known.
func tableLines(s *source, one *listed, known map[string]bool) []string {
	var lines []string
	scope := one.types.Scope()
	for _, name := range scope.Names() {
		object := scope.Lookup(name)
		if !object.Exported() || (known[name] && !replaced[one.ImportPath+"."+name]) || generic(object) {
			continue
		}
		var value string
		switch object := object.(type) {
		case *types.Func:
			value = "%s.%s"
		case *types.Var:
			value = "&%s.%s"
		case *types.TypeName:
			if onlyConstraint(object) {
				continue
			}
			value = "(*%s.%s)(nil)"
		default:
			continue // constants are in the types
		}
		value = "p_reflect.ValueOf(" + fmt.Sprintf(value, s.use(one.ImportPath), name) + ")"
		if _, variable := object.(*types.Var); variable {
			value += ".Elem()"
		}
		lines = append(lines, fmt.Sprintf("\tcase %q:\n\t\treturn %s\n", name, value))
	}
	return lines
}

func generic(object types.Object) bool {
	switch t := object.Type().(type) {
	case *types.Signature:
		return t.TypeParams().Len() > 0
	case *types.Named:
		return t.TypeParams().Len() > 0
	case *types.Alias:
		return t.TypeParams().Len() > 0
	}
	return false
}

// onlyConstraint says whether a type is an interface that can only constrain
// type parameters, such as cmp.Ordered; it has no values.
func onlyConstraint(object *types.TypeName) bool {
	t, ok := object.Type().Underlying().(*types.Interface)
	return ok && !t.IsMethodSet()
}

// readYaegi gives the names in yaegi's tables, by path, from their text: to
// import them would make this program take half a minute to build.
func readYaegi(p *packages) (map[string]map[string]bool, error) {
	command := exec.Command("go", "list", "-f", "{{.Dir}}\n{{range .GoFiles}}{{.}}\n{{end}}", "github.com/traefik/yaegi/stdlib")
	command.Dir = p.root
	text, err := command.Output()
	if err != nil {
		return nil, fmt.Errorf("go list of yaegi's tables: %w", err)
	}
	lines := strings.Fields(string(text))
	tables := map[string]map[string]bool{}
	for _, name := range lines[1:] {
		file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(lines[0], name), nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		ast.Inspect(file, func(node ast.Node) bool {
			if assign, ok := node.(*ast.AssignStmt); ok {
				readYaegiTable(assign, tables)
			}
			return true
		})
	}
	if len(tables) < 100 {
		return nil, fmt.Errorf("found only %d tables of yaegi: their form has changed", len(tables))
	}
	return tables, nil
}

// readYaegiTable reads Symbols["path/name"] = map[…]…{"Name": …}.
func readYaegiTable(assign *ast.AssignStmt, tables map[string]map[string]bool) {
	index, ok := assign.Lhs[0].(*ast.IndexExpr)
	if !ok {
		return
	}
	table, ok := assign.Rhs[0].(*ast.CompositeLit)
	if symbols, isName := index.X.(*ast.Ident); !ok || !isName || symbols.Name != "Symbols" {
		return
	}
	path := unquote(index.Index)
	path = path[:strings.LastIndex(path, "/")+1]
	names := map[string]bool{}
	for _, element := range table.Elts {
		if pair, ok := element.(*ast.KeyValueExpr); ok {
			names[unquote(pair.Key)] = true
		}
	}
	tables[strings.TrimSuffix(path, "/")] = names
}

func unquote(expr ast.Expr) string {
	literal, ok := expr.(*ast.BasicLit)
	if !ok {
		return ""
	}
	text, err := strconv.Unquote(literal.Value)
	if err != nil {
		return ""
	}
	return text
}
