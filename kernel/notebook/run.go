package notebook

import (
	"context"
	"fmt"
	"strings"

	"cobber/kernel/display"
	"cobber/kernel/source"
	"cobber/stdlib/show"
)

// A Session runs cells and keeps what they bound.
type Session interface {
	// Run runs one cell to its end, to its failure, or until ctx is done. It
	// hands what the cell prints and shows to out while it runs.
	Run(ctx context.Context, cell source.Cell, out Receiver) Outcome
}

// A Receiver takes what a cell prints and shows, from any goroutine.
type Receiver interface {
	Stream(name, text string)
	Event(show.Event)
}

// An Outcome is how the run of a cell ended. Without values there is nothing to
// show; Err is what package display can explain.
type Outcome struct {
	Values []any
	Err    error
	Inputs []Input // that the cell has bound
}

// An Input is a value of a notebook that may be set from outside. The run keeps
// it in the metadata of its cell.
type Input struct {
	Name       string
	Own, Value string // as the cell has it, and as it was used
	Set        bool   // from outside
}

// Options of a run. The zero value is useful.
type Options struct {
	LanguageInfo map[string]any // written to the notebook's metadata as a front end would
	KernelSpec   map[string]any // written where the notebook names no kernel yet
	Step         func(Step)     // called before and after each cell that runs; may be nil
}

// A Step is the place that a run has reached.
type Step struct {
	Number, Of int  // the how-manieth of the code cells that have code
	Done       bool // false before the cell runs, true after
	Failed     bool
}

// A CellError says that a cell failed and the run stopped there.
type CellError struct {
	Cell    string // its name, such as "cell 3"
	Trouble display.Trouble
	Err     error // what the session said
}

func (e *CellError) Error() string {
	return e.Cell + ": " + e.Trouble.Name + ": " + e.Trouble.Value
}

func (e *CellError) Unwrap() error { return e.Err }

// Run runs the code cells of a notebook in order, from a clean page: outputs
// and counts of an earlier run go first. It stops at the first cell that fails,
// with a *CellError, and keeps the error as that cell's output; a cell with the
// tag raises-exception may fail without stopping the run. What a cell asks to
// be shown aside, in a pager, is not part of a notebook and is dropped.
func Run(ctx context.Context, nb *Notebook, session Session, o Options) error {
	if err := checkLanguage(nb); err != nil {
		return err
	}
	describe(nb, o)
	page := newPage(len(nb.Cells))
	total := 0
	for i := range nb.Cells {
		nb.Cells[i].Outputs, nb.Cells[i].Count = nil, 0
		if runs(&nb.Cells[i]) {
			total++
		}
	}
	defer page.finish(nb)
	count := 0
	for i := range nb.Cells {
		c := &nb.Cells[i]
		if !runs(c) {
			continue
		}
		if err := ctx.Err(); err != nil {
			return fmt.Errorf("stopped before cell %d: %w", count+1, err)
		}
		count++
		c.Count = count
		o.step(Step{Number: count, Of: total})
		err := runCell(ctx, session, page.region(i), c)
		o.step(Step{Number: count, Of: total, Done: true, Failed: err != nil})
		if err != nil && (!c.Tagged("raises-exception") || ctx.Err() != nil) {
			return err
		}
	}
	return nil
}

// runs reports whether a cell has something to run. Front ends do not send an
// empty cell, and do not count it.
func runs(c *Cell) bool {
	return c.Kind == Code && strings.TrimSpace(c.Source) != ""
}

func runCell(ctx context.Context, session Session, out *region, c *Cell) error {
	cell := source.Cell{Name: fmt.Sprintf("cell %d", c.Count), Count: c.Count, Text: c.Source}
	outcome := session.Run(ctx, cell, out)
	c.setInputs(outcome.Inputs)
	if outcome.Err != nil {
		trouble := explain(ctx, outcome.Err)
		out.add(Output{Kind: Failure, ErrorName: trouble.Name, ErrorValue: trouble.Value, Traceback: trouble.Traceback}, "")
		return &CellError{Cell: cell.Name, Trouble: trouble, Err: outcome.Err}
	}
	if data, metadata := display.Bundles(outcome.Values...); data != nil {
		out.add(Output{Kind: Result, Data: data, Metadata: metadata, Count: c.Count}, "")
	}
	return nil
}

// explain says what went wrong with a cell. One that was stopped need not say
// so itself.
func explain(ctx context.Context, err error) display.Trouble {
	if ctx.Err() == nil || display.WasInterrupted(err) {
		return display.Explain(err)
	}
	const text = "the cell was stopped"
	return display.Trouble{Name: display.Interrupted, Value: text, Traceback: []string{text}}
}

func (o *Options) step(s Step) {
	if o.Step != nil {
		o.Step(s)
	}
}

// checkLanguage refuses the notebook of another language at once: its first
// cell would be refused with an error that says little.
func checkLanguage(nb *Notebook) error {
	for _, at := range [][2]string{{"kernelspec", "language"}, {"language_info", "name"}} {
		about, _ := nb.Metadata[at[0]].(map[string]any)
		if language, ok := about[at[1]].(string); ok && language != "" && !strings.EqualFold(language, "go") {
			return fmt.Errorf("the cells of this notebook are %s (its metadata say so in %s.%s), and cobber runs Go", language, at[0], at[1])
		}
	}
	return nil
}

// describe writes into the metadata what a front end writes when it has run a
// notebook.
func describe(nb *Notebook, o Options) {
	if nb.Metadata == nil {
		nb.Metadata = map[string]any{}
	}
	if o.LanguageInfo != nil {
		nb.Metadata["language_info"] = o.LanguageInfo
	}
	if _, named := nb.Metadata["kernelspec"]; !named && o.KernelSpec != nil {
		nb.Metadata["kernelspec"] = o.KernelSpec
	}
}
