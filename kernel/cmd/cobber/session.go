package main

import (
	"context"

	"cobber/kernel/server"
	"cobber/kernel/session"
	"cobber/kernel/source"
)

// newSession starts a session. This is the only place where the program meets
// package session.
func newSession() (server.Session, error) { return served{session.New()}, nil }

// served is a session as package server wants it: neither package knows the other.
type served struct{ *session.Session }

func (s served) Run(ctx context.Context, cell source.Cell, out server.Output) server.Outcome {
	return server.Outcome(s.Session.Run(ctx, cell, out))
}

func (s served) Complete(text string, cursor int) server.Completion {
	found := s.Session.Complete(text, cursor)
	c := server.Completion{Start: found.Start, End: found.End}
	for _, m := range found.Matches {
		c.Matches = append(c.Matches, server.Match{Text: m.Text, Type: m.Type, Signature: m.Signature})
	}
	return c
}

func (s served) Inspect(text string, cursor int) (server.Inspection, bool) {
	found, ok := s.Session.Inspect(text, cursor)
	return server.Inspection(found), ok
}
