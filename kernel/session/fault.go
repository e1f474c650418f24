package session

import (
	"fmt"
	"runtime/debug"

	"cobber/kernel/diag"
)

// guarded keeps a fault of our own from ending the session: it becomes the outcome of the cell, with
// what is needed to report it.
func guarded(run func() Outcome) (o Outcome) {
	defer func() {
		if fault := recover(); fault != nil {
			err := fmt.Errorf("%v\n%s", fault, debug.Stack())
			o = Outcome{Err: &Failure{Cause: err, diagnostic: diag.Diagnostic{
				Code:    "internal",
				Summary: fmt.Sprintf("cobber failed: %v", fault),
				Detail:  "This is a fault of cobber, not of the cell. The session goes on. Please report it with the cell.",
			}}}
		}
	}()
	return run()
}
