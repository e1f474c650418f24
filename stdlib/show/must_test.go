package show

import (
	"errors"
	"testing"
)

func TestMust(t *testing.T) {
	if got := Must(36.5, nil); got != 36.5 {
		t.Errorf("without an error it gives %v", got)
	}
	defer func() {
		if err, ok := recover().(error); !ok || err.Error() != "no feed" {
			t.Errorf("stopped with %v, want the error itself", err)
		}
	}()
	Must("", errors.New("no feed"))
}
