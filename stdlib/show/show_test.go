package show

import (
	"errors"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func record(t *testing.T) *[]Event {
	t.Helper()
	var events []Event
	stop := Listen(func(e Event) { events = append(events, e) })
	t.Cleanup(stop)
	return &events
}

func TestWhatACellMayDo(t *testing.T) {
	tests := []struct {
		name string
		do   func()
		want []Event
	}{
		{"two values", func() { Value(1, "two") }, []Event{{Kind: KindDisplay, Values: []any{1, "two"}}}},
		{"no value", func() { Value() }, nil},
		{"a place kept up to date", func() { Live("progress", 1); Live("other", 2); Live("progress", 3) }, []Event{
			{Kind: KindDisplay, ID: "progress", Values: []any{1}},
			{Kind: KindDisplay, ID: "other", Values: []any{2}},
			{Kind: KindUpdate, ID: "progress", Values: []any{3}},
		}},
		{"clear at the next value", func() { Clear(true) }, []Event{{Kind: KindClear, Wait: true}}},
		{"a long text", func() { Page("help") }, []Event{{Kind: KindPage, Text: "help"}}},
		{"no error", func() { Check(nil) }, nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			events := record(t)
			test.do()
			if diff := cmp.Diff(test.want, *events); diff != "" {
				t.Errorf("events (-want +got):\n%s", diff)
			}
		})
	}
}

func TestNewestListenerHearsAndStartsClean(t *testing.T) {
	first := record(t)
	Live("x", 1)
	var second []Event
	stop := Listen(func(e Event) { second = append(second, e) })
	Live("x", 2)
	stop()
	stop()
	Value(3)
	if len(*first) != 2 || (*first)[1].Values[0] != 3 {
		t.Errorf("the first listener heard %v", *first)
	}
	if len(second) != 1 || second[0].Kind != KindDisplay {
		t.Errorf("the second listener heard %v", second)
	}
}

func TestCheckPanicsWithTheErrorItself(t *testing.T) {
	want := errors.New("the pan is missing")
	defer func() {
		if got := recover(); got != want {
			t.Errorf("recovered %v", got)
		}
	}()
	Check(want)
	t.Error("Check returned")
}

func TestTextWhereNobodyListens(t *testing.T) {
	var out strings.Builder
	for _, event := range []Event{
		{Kind: KindDisplay, Values: []any{1, "two"}},
		{Kind: KindClear},
		{Kind: KindUpdate, ID: "x", Values: []any{3}},
		{Kind: KindPage, Text: "help"},
	} {
		writeText(&out, event)
	}
	if got, want := out.String(), "1\ntwo\n3\nhelp\n"; got != want {
		t.Errorf("text %q, want %q", got, want)
	}
}

func TestManyGoroutinesShowOnePlaceOnce(t *testing.T) {
	var mutex sync.Mutex
	displays := 0
	defer Listen(func(e Event) {
		mutex.Lock()
		defer mutex.Unlock()
		if e.Kind == KindDisplay {
			displays++
		}
	})()
	var group sync.WaitGroup
	for i := range 50 {
		group.Go(func() { Live("place", i) })
	}
	group.Wait()
	if displays != 1 {
		t.Errorf("the place was shown anew %d times", displays)
	}
}

func TestKindInWords(t *testing.T) {
	for kind, want := range map[Kind]string{KindDisplay: "display", KindUpdate: "update", KindClear: "clear", KindPage: "page", 9: "kind 9"} {
		if kind.String() != want {
			t.Errorf("Kind(%d) is %q, want %q", int(kind), kind, want)
		}
	}
}
