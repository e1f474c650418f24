package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"

	"cobber/kernel/notebook"
	"cobber/kernel/notebook/compare"
)

var checkCommand = command{
	name:      "check",
	arguments: "[-tolerance SHARE] NOTEBOOK…",
	summary:   "run notebooks anew and compare with the outputs that they were saved with",
	help: `
The cells of each notebook run in a session of their own, as with "cobber run",
and what they print and show is compared with what the file holds, cell by
cell: words as they are, numbers within the tolerance, drawings by the numbers
in them, bitmaps by their pixels. A cell with the tag varies runs and is not
compared. Inputs that were set when the notebook was saved are set again.
Nothing is written.

The exit status is 1 if anything differs, if a cell fails, or if a notebook was
saved without outputs. "cobber run -o" saves it with them.`,
	flags: func(flags *flag.FlagSet, s *settings) {
		flags.Float64Var(&s.tolerance, "tolerance", 1e-6, "by how much numbers may differ, as a `SHARE` of the larger: 0.01 is one percent")
	},
	run: (*program).checkNotebooks,
}

func (p *program) checkNotebooks(s *settings, paths []string) int {
	if len(paths) == 0 {
		return p.misuse("check", "no notebook is named")
	}
	if s.tolerance < 0 || math.IsNaN(s.tolerance) {
		return p.misuse("check", "-tolerance is a share of a number and not below 0")
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop)
	code := ok
	for _, path := range paths {
		code = max(code, p.checkNotebook(ctx, path, s.tolerance))
		if ctx.Err() != nil {
			return interrupted
		}
	}
	return code
}

func (p *program) checkNotebook(ctx context.Context, path string, tolerance float64) int {
	full, err := filepath.Abs(path)
	if err != nil {
		return p.fail("%v", err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return p.fail("%v", plain(err))
	}
	saved, err := notebook.Read(data)
	if err != nil {
		return p.fail("%s: %v", path, err)
	}
	now, err := notebook.Read(data)
	if err != nil {
		return p.fail("%s: %v", path, err)
	}
	if !compare.HasOutputs(saved) {
		return p.fail("%s was saved without outputs: there is nothing to compare with; cobber run -o %s %s saves it with them", path, path, path)
	}
	j := job{path: path, folder: filepath.Dir(full), set: setInputsOf(saved)}
	failure := p.execute(ctx, j, now)
	code := p.report(j, failure)
	var cell *notebook.CellError
	if failure != nil && (!errors.As(failure, &cell) || ctx.Err() != nil) {
		return code
	}
	if cell, count, found := compare.OutOfOrder(saved); found && failure == nil {
		fmt.Fprintf(p.stderr, "cobber: %s: the cell at place %d was saved with the number %d: its outputs do not come from one run from first to last\n", path, cell, count)
	}
	list := compare.Notebooks(saved, now, compare.Options{Tolerance: tolerance})
	for _, difference := range list {
		fmt.Fprintf(p.stdout, "%s: %s\n", path, difference)
	}
	if len(list) > 0 {
		return failed
	}
	if failure == nil {
		fmt.Fprintf(p.stdout, "%s: as saved\n", path)
	}
	return code
}

// setInputsOf are the inputs that were set from outside in the run that a
// notebook was saved after.
func setInputsOf(nb *notebook.Notebook) map[string]string {
	set := map[string]string{}
	for i := range nb.Cells {
		for _, input := range nb.Cells[i].Inputs() {
			if input.Set {
				set[input.Name] = input.Value
			}
		}
	}
	return set
}
