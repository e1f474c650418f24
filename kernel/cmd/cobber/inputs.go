package main

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strings"

	"cobber/kernel/notebook"
	"cobber/kernel/server"
	"cobber/kernel/session"
	"cobber/kernel/source"
)

// giveInputs gives each notebook those of the values on the command line that
// it has inputs for. One that no notebook has is refused before anything runs.
func giveInputs(jobs []job, assignments []string) error {
	if len(assignments) == 0 {
		return nil
	}
	given := map[string]string{}
	var known []string
	for _, assignment := range assignments {
		name, value, ok := strings.Cut(assignment, "=")
		if name = strings.TrimSpace(name); !ok || name == "" {
			return fmt.Errorf("-set %s is not of the form NAME=VALUE", assignment)
		}
		if _, twice := given[name]; twice {
			return fmt.Errorf("-set gives %s twice", name)
		}
		given[name] = value
	}
	for i := range jobs {
		jobs[i].set = map[string]string{}
		for _, name := range inputNames(jobs[i].path) {
			if value, ok := given[name]; ok {
				jobs[i].set[name] = value
			}
			if !slices.Contains(known, name) {
				known = append(known, name)
			}
		}
	}
	for name := range given {
		if !slices.Contains(known, name) {
			return unknownInput(name, known)
		}
	}
	return nil
}

func unknownInput(name string, known []string) error {
	if len(known) == 0 {
		return fmt.Errorf("-set %s: there are no inputs: no cell begins with //cobber:inputs", name)
	}
	return fmt.Errorf("-set %s: there is no such input; there are %s", name, strings.Join(known, ", "))
}

// inputNames lists the inputs of a notebook; none of one that cannot be read,
// which its run will say.
func inputNames(path string) (names []string) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil
	}
	nb, err := notebook.Read(data)
	if err != nil {
		return nil
	}
	for _, c := range nb.Cells {
		if c.Kind == notebook.Code {
			names = append(names, session.InputNames(c.Source)...)
		}
	}
	return names
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
