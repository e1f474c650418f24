package main

import (
	"context"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"

	"cobber/kernel/notebook"
	"cobber/kernel/server"
	"cobber/kernel/session"
	"cobber/kernel/source"
	"cobber/stdlib/show"
)

// A setting is what the command line gives to inputs and controls, by name.
type setting struct {
	given map[string]string
	known []string // the inputs of all notebooks
	loose []string // names that no notebook has as an input, nor as a control in a run so far
}

// giveInputs gives each notebook those of the values on the command line that
// it has inputs for. One that is no input may be the name of a control, which
// only the run can tell; where no notebook has controls it is refused before
// anything runs.
func giveInputs(jobs []job, assignments []string) (*setting, error) {
	s := &setting{given: map[string]string{}}
	for _, assignment := range assignments {
		name, value, ok := strings.Cut(assignment, "=")
		if name = strings.TrimSpace(name); !ok || name == "" {
			return nil, fmt.Errorf("-set %s is not of the form NAME=VALUE", assignment)
		}
		if _, twice := s.given[name]; twice {
			return nil, fmt.Errorf("-set gives %s twice", name)
		}
		s.given[name] = strings.TrimSpace(value)
	}
	controls := false
	for i := range jobs {
		jobs[i].set = map[string]string{}
		names, hasControls := inputNames(jobs[i].path)
		controls = controls || hasControls
		for _, name := range names {
			if value, ok := s.given[name]; ok {
				jobs[i].set[name] = value
			}
			if !slices.Contains(s.known, name) {
				s.known = append(s.known, name)
			}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(s.given)) {
		if !slices.Contains(s.known, name) {
			s.loose = append(s.loose, name)
		}
	}
	if len(s.loose) > 0 && !controls {
		return nil, unknownInput(s.loose[0], s.known)
	}
	return s, nil
}

// during runs a notebook with the settings, and notes which of them its controls
// have taken.
func (s *setting) during(run func() int) int {
	if len(s.given) == 0 {
		return run()
	}
	show.Preset(s.given)
	defer show.Preset(nil)
	code := run()
	unused := show.Unused()
	s.loose = slices.DeleteFunc(s.loose, func(name string) bool { return !slices.Contains(unused, name) })
	return code
}

// refusal says that a name is neither an input nor a control, once all has run.
func (s *setting) refusal() string {
	text := fmt.Sprintf("-set %s: no notebook has an input or a control of that name, and what was written is without it", s.loose[0])
	if len(s.known) > 0 {
		text += "; the inputs are " + strings.Join(s.known, ", ")
	}
	return text
}

func unknownInput(name string, known []string) error {
	if len(known) == 0 {
		return fmt.Errorf("-set %s: there are no inputs: no cell begins with //cobber:inputs", name)
	}
	return fmt.Errorf("-set %s: there is no such input; there are %s (a constant is none)", name, strings.Join(known, ", "))
}

// inputNames lists the inputs of a notebook, and tells whether a cell may put
// controls on the page; neither of one that cannot be read, which its run will
// say.
func inputNames(path string) (names []string, controls bool) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, false
	}
	nb, err := notebook.Read(data)
	if err != nil {
		return nil, false
	}
	for _, c := range nb.Cells {
		if c.Kind == notebook.Code {
			names = append(names, session.InputNames(c.Source)...)
			controls = controls || strings.Contains(c.Source, "control")
		}
	}
	return names, controls
}

// setter is a session whose inputs can be set.
type setter interface {
	Set(values map[string]string)
	Inputs() []session.Input
}

func setInputs(s server.Session, values map[string]string) {
	if s, ok := s.(setter); ok {
		s.Set(values)
	}
}

// adapter lets a session that serves Jupyter run a notebook.
type adapter struct{ server.Session }

func (a adapter) Run(ctx context.Context, cell source.Cell, out notebook.Receiver) notebook.Outcome {
	outcome := a.Session.Run(ctx, cell, out)
	told := notebook.Outcome{Values: outcome.Values, Err: outcome.Err}
	if s, ok := a.Session.(setter); ok {
		for _, in := range s.Inputs() {
			if in.Cell == cell.Name {
				told.Inputs = append(told.Inputs, notebook.Input{Name: in.Name, Own: in.Own, Value: in.Value, Set: in.Set})
			}
		}
	}
	return told
}
