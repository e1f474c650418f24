package maths

import (
	_ "embed"
	"errors"
	"fmt"
	"strings"
	"sync"

	"github.com/dop251/goja"
)

//go:embed katex/katex.min.js
var katex string

//go:embed katex/mhchem.min.js
var chemistry string

// compiled scripts are shared by all typesetters; reading them takes most of
// the time that the first formula takes.
var compiled = sync.OnceValues(func() ([]*goja.Program, error) {
	var programs []*goja.Program
	for _, script := range []struct{ name, text string }{
		{"katex", katex},
		{"mhchem", chemistry},
		{"call", `(function (tex, display) {
			return katex.renderToString(tex, {displayMode: display, throwOnError: true, strict: "ignore", maxExpand: 10000, maxSize: 50});
		})`},
	} {
		program, err := goja.Compile(script.name, script.text, false)
		if err != nil {
			return nil, fmt.Errorf("reading the typesetting script %s: %w", script.name, err)
		}
		programs = append(programs, program)
	}
	return programs, nil
})

// A Typesetter turns formulas into HTML. It may be used by one goroutine at a
// time. The zero value is ready, and costs nothing until the first formula.
type Typesetter struct {
	vm     *goja.Runtime
	render goja.Callable
	done   map[formula]typeset
}

type formula struct {
	tex     string
	display bool
}

type typeset struct {
	html string
	err  error
}

// HTML typesets one formula, without its dollar signs; display sets it on a
// line of its own.
func (t *Typesetter) HTML(tex string, display bool) (string, error) {
	key := formula{tex, display}
	if known, ok := t.done[key]; ok {
		return known.html, known.err
	}
	if err := t.start(); err != nil {
		return "", err
	}
	var result typeset
	value, err := t.render(goja.Undefined(), t.vm.ToValue(tex), t.vm.ToValue(display))
	if err != nil {
		result.err = complaint(err)
	} else {
		result.html = value.String()
	}
	t.done[key] = result
	return result.html, result.err
}

func (t *Typesetter) start() error {
	if t.render != nil {
		return nil
	}
	programs, err := compiled()
	if err != nil {
		return err
	}
	t.vm, t.done = goja.New(), map[formula]typeset{}
	t.vm.SetMaxCallStackSize(5000) // a formula of a million braces must not end the program
	var last goja.Value
	for _, program := range programs {
		if last, err = t.vm.RunProgram(program); err != nil {
			return fmt.Errorf("starting the typesetting script: %w", err)
		}
	}
	render, ok := goja.AssertFunction(last)
	if !ok {
		return errors.New("starting the typesetting script: it has no function to call")
	}
	t.render = render
	return nil
}

// complaint keeps what KaTeX says of the formula and drops where in its own
// script it said so.
func complaint(err error) error {
	var exception *goja.Exception
	if errors.As(err, &exception) {
		text := exception.Value().String()
		text = strings.TrimPrefix(text, "ParseError: ")
		text = strings.TrimPrefix(text, "KaTeX parse error: ")
		return errors.New(text)
	}
	return errors.New("the formula is too deeply nested")
}
