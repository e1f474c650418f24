package check

import (
	"go/token"
	"go/types"
	"html"
	"regexp"
	"strings"

	"cobber/kernel/docs"
	"cobber/kernel/source"
	"cobber/stdlib/quantity"
)

// Inspection is what is known of the name at a cursor.
type Inspection struct {
	Text     string // declaration and documentation as plain text
	Markdown string
	HTML     string
}

// Inspect tells what the name at a cursor means; the cursor counts code points.
// Between the brackets of a call it is the function that is called. It parses
// and checks, and runs nothing.
func Inspect(state *State, text string, cursor int) (Inspection, bool) {
	offset := source.Cell{Text: text}.Offset(cursor)
	if found, ok := inspectUnit(text, offset); ok {
		return found, true
	}
	start, end := nameAround(text, offset)
	if start == end || isNumberAt(text, start) {
		if start, end = calledName(text[:offset]); start == end {
			return Inspection{}, false
		}
	}
	if word := text[start:end]; token.IsKeyword(word) {
		return describe("keyword "+word, "", "", ""), true
	}
	u := checkUnfinished(state, text[:end], start)
	if u == nil {
		return state.inspectName(text[start:end])
	}
	id, sel, _ := u.find()
	if id == nil {
		return Inspection{}, false
	}
	object := u.round.Info.ObjectOf(id)
	if object == nil {
		return Inspection{}, false
	}
	if sel != nil {
		if selection := u.round.Info.Selections[sel]; selection != nil {
			return inspectMember(object, selection.Recv(), u.round.Package), true
		}
	}
	return state.inspectObject(object, u.round.Package), true
}

func isNumberAt(text string, offset int) bool { return '0' <= text[offset] && text[offset] <= '9' }

// calledName returns the name before the bracket that is open at the end.
func calledName(before string) (start, end int) {
	tokens := tokensOf(before)
	depth := 0
	for i := len(tokens) - 1; i > 0; i-- {
		switch tokens[i].kind {
		case token.RPAREN, token.RBRACK, token.RBRACE:
			depth++
		case token.LPAREN, token.LBRACK, token.LBRACE:
			if depth--; depth < 0 {
				name := tokens[i-1]
				if tokens[i].kind == token.LPAREN && name.kind == token.IDENT {
					return name.offset, name.offset + len(name.text)
				}
				depth = 0
			}
		}
	}
	return 0, 0
}

// inspectUnit describes the unit of a quantity literal at the cursor.
func inspectUnit(text string, offset int) (Inspection, bool) {
	tokens := tokensOf(text)
	for i := 1; i < len(tokens); i++ {
		l, number := tokens[i], tokens[i-1]
		if l.kind != token.STRING || l.text[0] != '`' || offset <= l.offset || offset > l.offset+len(l.text) ||
			number.kind != token.INT && number.kind != token.FLOAT || number.offset+len(number.text) != l.offset {
			continue
		}
		unit, err := quantity.ParseUnit(strings.Trim(l.text, "`"))
		if err != nil {
			return describe("", err.Error(), "", ""), true
		}
		about := "unit of " + unit.Dimension().String()
		for _, known := range quantity.Known() {
			if known.Symbol == unit.String() {
				about += ": " + known.Name + "\n" + known.Source
				break
			}
		}
		return describe("unit "+unit.String(), about, "", ""), true
	}
	return Inspection{}, false
}

// inspectName describes a name where the text around it cannot be checked.
func (s *State) inspectName(name string) (Inspection, bool) {
	known, ok := s.Lookup(name)
	switch {
	case ok && known.Object != nil:
		return s.inspectObject(known.Object, known.Object.Pkg()), true
	case ok:
		return inspectPackage(known.Import), true
	case library[name] != "":
		return inspectPackage(library[name]), true
	}
	return Inspection{}, false
}

func inspectPackage(path string) Inspection {
	doc, _ := docs.Of(path, "")
	return describe("package "+path, doc.Text, doc.Markdown, doc.HTML)
}

func (s *State) inspectObject(o types.Object, from *types.Package) Inspection {
	if pkg, ok := o.(*types.PkgName); ok {
		return inspectPackage(pkg.Imported().Path())
	}
	declaration := declarationOf(o, from)
	if o.Pkg() != nil && o.Pkg().Path() != "main" {
		doc, _ := docs.Of(o.Pkg().Path(), o.Name())
		if doc.Signature != "" {
			declaration = doc.Signature
		}
		return describe(declaration, doc.Text, doc.Markdown, doc.HTML)
	}
	var doc, origin string
	if known, ok := s.Lookup(o.Name()); ok && known.Object == o {
		doc = known.Doc
		if at, ok := s.Set.Position(o.Pos()); ok {
			origin = "Defined in " + at.Cell + "."
		}
	}
	return describe(declaration, strings.TrimSpace(doc+"\n"+origin), "", "")
}

// inspectMember describes a field or method of a receiver.
func inspectMember(o types.Object, receiver types.Type, from *types.Package) Inspection {
	declaration := declarationOf(o, from)
	if o.Pkg() == nil || o.Pkg().Path() == "main" {
		return describe(declaration, "", "", "")
	}
	if p, ok := receiver.Underlying().(*types.Pointer); ok {
		receiver = p.Elem()
	}
	name := o.Name()
	if fn, ok := o.(*types.Func); ok && fn.Signature().Recv() != nil {
		receiver = fn.Signature().Recv().Type() // of the type that declares it, if it is promoted
		if p, ok := receiver.(*types.Pointer); ok {
			receiver = p.Elem()
		}
	}
	if named, ok := types.Unalias(receiver).(*types.Named); ok {
		name = named.Obj().Name() + "." + name
	}
	doc, _ := docs.Of(o.Pkg().Path(), name)
	if doc.Signature != "" {
		declaration = doc.Signature
	}
	return describe(declaration, doc.Text, doc.Markdown, doc.HTML)
}

// declarationOf writes how an object is declared, with the type as the user
// would write it.
func declarationOf(o types.Object, from *types.Package) string {
	qualifier := func(pkg *types.Package) string {
		if pkg.Path() == "main" || from != nil && pkg.Path() == from.Path() {
			return ""
		}
		return pkg.Name()
	}
	return types.ObjectString(o, qualifier)
}

// describe puts an inspection together; markdown and page are the text if they
// are empty.
func describe(declaration, text, markdown, page string) Inspection {
	if markdown == "" {
		markdown = text
	}
	if page == "" && text != "" {
		page = "<p>" + strings.ReplaceAll(html.EscapeString(text), "\n", "<br>") + "</p>"
	}
	found := Inspection{Text: strings.TrimSpace(declaration + "\n\n" + text), Markdown: markdown, HTML: headed.ReplaceAllString(page, "<p><b>$1</b>")}
	if declaration != "" {
		found.Markdown = strings.TrimSpace("```go\n" + declaration + "\n```\n\n" + markdown)
		found.HTML = strings.TrimSpace("<pre><code>" + html.EscapeString(declaration) + "</code></pre>\n" + found.HTML)
	}
	return found
}

// headed is a paragraph that says what it is about, as those of the library do.
var headed = regexp.MustCompile(`<p>((?:Units|Range|Errors|Source|Example):)`)
