package parse

import (
	"go/ast"
	goparser "go/parser"
	"go/scanner"
	"go/token"
	"strings"

	"cobber/kernel/diag"
)

// What a piece is put behind, so that Go's parser reads it as a file. Both are
// shorter than source.Room.
const (
	declarationPrefix = "package p\n" // the line end lets a comment before the item be its documentation
	statementPrefix   = "package p;func _(){"
)

const mode = goparser.SkipObjectResolution | goparser.ParseComments

// parser builds the trees of a cell.
type parser struct {
	cell   *Cell
	scan   *scanned
	faults diag.List
}

// items parses a cell that is no program, item by item, so that an error in
// one says nothing about the others.
func (p *parser) items() {
	items := p.scan.split()
	p.outside(items)
	for i, it := range items {
		switch it.kind {
		case importing:
			p.imports(it)
		case declaration:
			if file := p.piece(it, declarationPrefix, ""); file != nil {
				p.cell.Decls = append(p.cell.Decls, file.Decls...)
			}
		case statement:
			p.statement(it, i == len(items)-1)
		}
	}
}

func (p *parser) imports(it item) {
	file := p.piece(it, declarationPrefix, "")
	if file == nil {
		return
	}
	for _, d := range file.Decls {
		for _, spec := range d.(*ast.GenDecl).Specs {
			p.cell.Imports = append(p.cell.Imports, spec.(*ast.ImportSpec))
		}
	}
}

func (p *parser) statement(it item, last bool) {
	file := p.piece(it, statementPrefix, "\n}")
	if file == nil || len(file.Decls) == 0 {
		return
	}
	list := file.Decls[0].(*ast.FuncDecl).Body.List
	if last && len(list) > 0 {
		if x, ok := list[len(list)-1].(*ast.ExprStmt); ok {
			p.cell.Final = x.X
			list = list[:len(list)-1]
		}
	}
	p.cell.Statements = append(p.cell.Statements, list...)
}

// piece parses one item as a file of its own. The positions of the tree are
// those of the cell. It returns nil if there are errors.
func (p *parser) piece(it item, prefix, suffix string) *ast.File {
	// A file set in which the next file starts where the piece, less the
	// prefix, starts in the set of the session.
	base := p.cell.File.Base() + it.start - len(prefix)
	set := token.NewFileSet()
	set.AddFile("", base-1, 0)
	text := prefix + string(p.scan.plain[it.start:it.end]) + suffix
	file, err := goparser.ParseFile(set, "", text, mode)
	if err == nil {
		return file
	}
	list, ok := err.(scanner.ErrorList)
	if !ok {
		p.faults = append(p.faults, diag.New(Syntax, p.cell.Source, it.start, 1, err.Error()))
		return nil
	}
	if it.damaged {
		return nil // the bracket too many has been reported
	}
	if len(it.open) > 0 {
		list = list[:1] // what follows an open bracket is out of place, all of it
	}
	for i, e := range list {
		offset := e.Pos.Offset - len(prefix) + it.start
		if i > 0 && offset >= it.end {
			break // only the end of the piece, missed after an error before it
		}
		p.fault(it, offset, e.Msg)
	}
	return nil
}

// fault reports an error of Go's parser in an item.
func (p *parser) fault(it item, offset int, msg string) {
	if offset >= it.end {
		// The end of the wrapping is no text of the user's.
		msg = strings.NewReplacer("found '}'", "found newline", "found 'EOF'", "found the end of the cell").Replace(msg)
	}
	offset = min(max(offset, it.start), it.end)
	d := diag.New(Syntax, p.cell.Source, offset, p.width(offset), msg)
	for _, open := range it.open {
		pos := p.cell.Source.At(open.offset)
		d.Related = append(d.Related, diag.Related{Pos: pos, Text: "this " + open.kind.String() + " is not closed",
			SourceLine: p.cell.Source.Line(pos.Line)})
	}
	p.faults = append(p.faults, d)
}

// width returns the characters of the token at an offset.
func (p *parser) width(offset int) int {
	for _, l := range p.scan.tokens {
		if l.offset == offset {
			text := p.cell.Source.Text[l.offset:min(p.scan.end(l), len(p.cell.Source.Text))]
			first, _, _ := strings.Cut(text, "\n")
			return len([]rune(first))
		}
	}
	return 1
}

// outside reports what Go's scanner found between the items, which no parser
// will see, such as a comment that does not end.
func (p *parser) outside(items []item) {
	for _, e := range p.scan.errors {
		inside := false
		for _, it := range items {
			inside = inside || it.start <= e.offset && e.offset < it.end
		}
		if !inside {
			p.faults = append(p.faults, diag.New(Syntax, p.cell.Source, e.offset, 1, e.text))
		}
	}
}

// program parses a pasted program.
func (p *parser) program() {
	p.cell.Program = true
	whole := item{start: 0, end: len(p.scan.plain)}
	file := p.piece(whole, "", "")
	if file == nil {
		return
	}
	if file.Name.Name != "main" {
		d := diag.New(Syntax, p.cell.Source, p.cell.Offset(file.Name.Pos()), len(file.Name.Name),
			"only package main can be pasted into a cell")
		d.Detail = "Write package main, or remove the line to use its declarations in the notebook."
		p.faults = append(p.faults, d)
		return
	}
	p.cell.Imports = file.Imports
	for _, d := range file.Decls {
		if g, ok := d.(*ast.GenDecl); ok && g.Tok == token.IMPORT {
			continue
		}
		p.cell.Decls = append(p.cell.Decls, d)
	}
}
