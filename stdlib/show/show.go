package show

import (
	"fmt"
	"io"
	"os"
	"slices"
	"sync"
)

// Kind says what an Event asks of the page.
type Kind int

// The kinds of events.
const (
	KindDisplay Kind = iota // show Values now
	KindUpdate              // put Values in the place shown before under ID
	KindClear               // remove what the cell has shown so far
	KindPage                // show Text aside, as help is shown
	KindAsk                 // ask the user for a line: Text is the question, Answer takes what comes
	KindPanel               // show the knobs of Panel, and below them Values, which Panel.Draw gives anew
)

// String is the kind in words.
func (k Kind) String() string {
	switch k {
	case KindDisplay:
		return "display"
	case KindUpdate:
		return "update"
	case KindClear:
		return "clear"
	case KindPage:
		return "page"
	case KindAsk:
		return "ask"
	case KindPanel:
		return "panel"
	}
	return fmt.Sprintf("kind %d", int(k))
}

// Event is one wish of a running cell.
type Event struct {
	Kind   Kind
	ID     string // names the place of a KindDisplay or a KindUpdate; empty where the place is not named
	Values []any  // what to show, one below the other
	Wait   bool   // KindClear only: wait with clearing until something new is shown
	Text   string // KindPage and KindAsk only
	Secret bool   // KindAsk only: what is typed must not be seen

	Panel *Panel // KindPanel only

	// Answer of a KindAsk is to be called before the listener returns; a
	// listener that cannot ask does not call it.
	Answer func(line string, err error)
}

// Value shows values one below the other, as if each were the last value of a
// cell.
func Value(values ...any) {
	if len(values) == 0 {
		return
	}
	send(Event{Kind: KindDisplay, Values: values})
}

// Live shows a value that changes: the first call with an id shows it, later
// calls with the same id put the new value in the same place. Use it for the
// progress of a long calculation.
func Live(id string, value any) {
	page.Lock()
	kind := KindUpdate
	if !page.live[id] {
		kind = KindDisplay
		page.live[id] = true
	}
	page.Unlock()
	send(Event{Kind: kind, ID: id, Values: []any{value}})
}

// Clear removes what the cell has shown so far. With wait, it is removed only
// when the next value comes, which avoids flicker.
func Clear(wait bool) {
	send(Event{Kind: KindClear, Wait: wait})
}

// Page shows a long text aside: a pager in a console, a pane in a notebook.
func Page(text string) {
	send(Event{Kind: KindPage, Text: text})
}

// Check stops the cell if err is an error, and does nothing if it is nil. It
// panics with err itself, so that the message is the one err carries and what
// the cell bound before stays bound. It is meant for notebooks and short
// programs; a package returns its errors.
func Check(err error) {
	if err != nil {
		panic(err)
	}
}

// Listen hands every later event to sink instead of the program's output, until
// stop is called. The newest listener alone hears; when it stops, the one
// before it hears again. A new listener starts with a clean page: the ids of
// Live are shown anew. sink may be called from several goroutines.
func Listen(sink func(Event)) (stop func()) {
	mine := &listener{sink: sink}
	page.Lock()
	defer page.Unlock()
	page.listeners = append(page.listeners, mine)
	page.live = map[string]bool{}
	return func() {
		page.Lock()
		defer page.Unlock()
		page.listeners = slices.DeleteFunc(page.listeners, func(l *listener) bool { return l == mine })
	}
}

type listener struct{ sink func(Event) }

// page is the one page a program has, as it has one output.
var page = struct {
	sync.Mutex
	listeners []*listener
	live      map[string]bool
}{live: map[string]bool{}}

// listening is the newest listener, or nil.
func listening() (sink func(Event)) {
	page.Lock()
	defer page.Unlock()
	if n := len(page.listeners); n > 0 {
		sink = page.listeners[n-1].sink
	}
	return sink
}

func send(event Event) {
	sink := listening()
	if sink == nil {
		writeText(os.Stdout, event)
		return
	}
	sink(event)
}

// writeText is what becomes of an event where nobody listens. Text that is out
// cannot be taken back, so Clear does nothing.
func writeText(out io.Writer, event Event) {
	switch event.Kind {
	case KindDisplay, KindUpdate:
		for _, value := range event.Values {
			fmt.Fprintln(out, value)
		}
	case KindPanel:
		fmt.Fprintln(out, event.Panel)
		for _, value := range event.Values {
			fmt.Fprintln(out, value)
		}
	case KindPage:
		fmt.Fprintln(out, event.Text)
	}
}
