package check

import (
	"go/token"
	"go/types"
	"strings"
	"testing"

	"cobber/kernel/session/parse"
	"cobber/kernel/source"
)

// go/types gives its errors numbers that it exports only to reflection: a later
// Go may change them. Each cell provokes the error of one number.
func TestNumbersOfGoTypes(t *testing.T) {
	tests := []struct {
		text string
		code int
		part string
	}{
		{"func f() int { return x }\nvar x = f()", codeInvalidInitCycle, "initialization cycle"},
		{"func f() {}\nfunc f() {}", codeDuplicateDecl, "redeclared"},
		{"const a = b\nconst b = a", codeInvalidInitCycle, "initialization cycle"},
		{"type T [len(x)]int\nvar x T", codeInvalidDeclCycle, "invalid recursive type"},
		{"import \"time\"\nvar t = time.Time{1, 2, nil}", codeUnexportedLitField, "unexported field"},
		{"import \"time\"\nvar t = time.Nown()", codeUndeclaredImportedName, "undefined"},
		{"import \"cmp\"\nvar t = cmp.hidden()", codeUnexportedName, "not exported"},
		{"var x = y", codeUndeclaredName, "undefined: y"},
		{"var s struct{ a int }\nvar b = s.b", codeMissingFieldOrMethod, "undefined"},
		{"func f() { x := 1 }", codeUnusedVar, "declared and not used"},
	}
	for _, test := range tests {
		state := NewState(source.NewSet())
		hideName(t, state)
		cell, err := parse.Parse(state.Set, source.Cell{Name: "cell 1", Text: test.text})
		if err != nil {
			t.Fatal(err)
		}
		found := false
		var got []string
		for _, err := range Check(state, Assemble(state, cell)).errors {
			got = append(got, err.Msg)
			found = found || codeOf(err) == test.code && strings.Contains(err.Msg, test.part)
		}
		if !found {
			t.Errorf("%q: no error of number %d among %q", test.text, test.code, got)
		}
	}
}

// hideName gives package cmp a function that is not exported, as packages with
// bodies may have; export data has none.
func hideName(t *testing.T, state *State) {
	t.Helper()
	pkg, err := state.Importer.Import("cmp")
	if err != nil {
		t.Fatal(err)
	}
	pkg.Scope().Insert(types.NewFunc(token.NoPos, pkg, "hidden", types.NewSignatureType(nil, nil, nil, nil, nil, false)))
}
