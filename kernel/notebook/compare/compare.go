package compare

import (
	"fmt"
	"strings"

	"cobber/kernel/notebook"
)

// Varies is the tag of a cell whose outputs differ from run to run, such as
// one that shows the time. Such a cell is run and not compared.
const Varies = "varies"

// Options of a comparison. The zero value asks for equal numbers.
type Options struct {
	// Tolerance is by how much two numbers may differ, as a share of the larger.
	Tolerance float64
}

// Difference is one place where the runs differ.
type Difference struct {
	Cell  int    // how-manieth cell of the notebook, from 1
	Count int    // its execution count in the new run; 0 if it did not run
	Where string // "output 2, text/plain"
	Text  string // what was saved, and what is shown now
}

func (d Difference) String() string {
	name := fmt.Sprintf("the cell at place %d", d.Cell)
	if d.Count > 0 {
		name = fmt.Sprintf("cell %d", d.Count)
	}
	if d.Where == "" {
		return name + ": " + d.Text
	}
	return name + ", " + d.Where + ": " + d.Text
}

// Notebooks compares what the cells of two runs show, in order. It reports the
// first difference of each output. The cells themselves must be the same.
func Notebooks(saved, now *notebook.Notebook, o Options) []Difference {
	var list []Difference
	if len(saved.Cells) != len(now.Cells) {
		return []Difference{{Cell: 1, Text: fmt.Sprintf("%d cells were saved, and there are %d now", len(saved.Cells), len(now.Cells))}}
	}
	for i := range now.Cells {
		before, after := &saved.Cells[i], &now.Cells[i]
		if after.Kind != notebook.Code || after.Tagged(Varies) {
			continue
		}
		for _, d := range cells(before, after, o) {
			d.Cell, d.Count = i+1, after.Count
			list = append(list, d)
		}
	}
	return list
}

// HasOutputs tells whether a notebook was saved with anything to compare.
func HasOutputs(nb *notebook.Notebook) bool {
	for i := range nb.Cells {
		if len(nb.Cells[i].Outputs) > 0 {
			return true
		}
	}
	return false
}

// OutOfOrder returns the first cell that was saved with another execution count
// than a run from the first cell to the last gives it, and that count. A
// notebook without such a cell was saved after a clean run.
func OutOfOrder(nb *notebook.Notebook) (cell, count int, found bool) {
	next := 0
	for i := range nb.Cells {
		c := &nb.Cells[i]
		if c.Kind != notebook.Code || strings.TrimSpace(c.Source) == "" {
			continue
		}
		next++
		if c.Count != next {
			return i + 1, c.Count, true
		}
	}
	return 0, 0, false
}

func cells(before, after *notebook.Cell, o Options) []Difference {
	if before.Source != after.Source {
		return []Difference{{Text: "the code is another"}}
	}
	old, new := joined(before.Outputs), joined(after.Outputs)
	var list []Difference
	for i := range max(len(old), len(new)) {
		where := fmt.Sprintf("output %d", i+1)
		switch {
		case i >= len(old):
			list = append(list, Difference{Where: where, Text: "nothing was saved, and now there is " + brief(&new[i])})
		case i >= len(new):
			list = append(list, Difference{Where: where, Text: brief(&old[i]) + " was saved, and now there is nothing"})
		default:
			if at, text := outputs(&old[i], &new[i], o); text != "" {
				list = append(list, Difference{Where: strings.TrimSuffix(where+", "+at, ", "), Text: text})
			}
		}
	}
	return list
}

// joined makes one output of the printed texts that follow one another: how a
// front end cut them says nothing.
func joined(list []notebook.Output) []notebook.Output {
	var short []notebook.Output
	for _, o := range list {
		last := len(short) - 1
		if o.Kind == notebook.Stream && last >= 0 && short[last].Kind == notebook.Stream && short[last].Name == o.Name {
			short[last].Text += o.Text
			continue
		}
		short = append(short, o)
	}
	return short
}

// outputs compares one output with the one in its place. An empty text means
// that they show the same.
func outputs(old, new *notebook.Output, o Options) (at, text string) {
	if kindOf(old) != kindOf(new) {
		return "", brief(old) + " was saved, and now there is " + brief(new)
	}
	switch new.Kind {
	case notebook.Stream:
		return new.Name, texts(old.Text, new.Text, o)
	case notebook.Failure:
		if old.ErrorName != new.ErrorName {
			return "error", apart(old.ErrorName, new.ErrorName)
		}
		return "error", texts(old.ErrorValue, new.ErrorValue, o)
	}
	return bundles(old.Data, new.Data, o)
}

// kindOf makes no difference between a result and what is shown before it.
func kindOf(o *notebook.Output) string {
	switch o.Kind {
	case notebook.Display, notebook.Result:
		return "shown"
	case notebook.Stream:
		return "printed to " + o.Name
	}
	return string(o.Kind)
}

// brief names an output in a few words.
func brief(o *notebook.Output) string {
	switch o.Kind {
	case notebook.Stream:
		return quoted(o.Text)
	case notebook.Failure:
		return "the error " + quoted(o.ErrorValue)
	}
	if text, ok := o.Data["text/plain"].(string); ok {
		return quoted(text)
	}
	return "an output without a text"
}

// quoted cuts a text to what fits a line.
func quoted(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	if runes := []rune(text); len(runes) > 60 {
		text = string(runes[:59]) + "…"
	}
	return "“" + text + "”"
}

func apart(old, new string) string {
	return quoted(old) + " was saved, and now it is " + quoted(new)
}
