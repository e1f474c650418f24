package session

import (
	"errors"
	"strings"
	"testing"
)

func TestFaultOfOurOwn(t *testing.T) {
	o := guarded(func() Outcome { panic("out of step") })
	var failed *Failure
	if !errors.As(o.Err, &failed) {
		t.Fatalf("the outcome is %v", o.Err)
	}
	if text := o.Err.Error(); !strings.Contains(text, "out of step") || !strings.Contains(text, "not of the cell") {
		t.Errorf("says %q", text)
	}
	if !strings.Contains(failed.Cause.Error(), "fault_test.go") {
		t.Error("the cause has no stack")
	}
}
