package notebook

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"

	"cobber/kernel/diag"
	"cobber/kernel/source"
	"cobber/stdlib/show"

	"github.com/google/go-cmp/cmp"
)

// A script is a session for tests: the text of a cell names what it does, one
// act a line.
type script struct {
	ran    []source.Cell
	cancel context.CancelFunc
}

func (s *script) Run(ctx context.Context, cell source.Cell, out Receiver) Outcome {
	s.ran = append(s.ran, cell)
	var outcome Outcome
	for line := range strings.Lines(cell.Text) {
		verb, rest, _ := strings.Cut(strings.TrimSuffix(line, "\n"), " ")
		first, second, _ := strings.Cut(rest, " ")
		switch verb {
		case "print":
			out.Stream("stdout", rest+"\n")
		case "bytes":
			out.Stream("stdout", "\xc2")
			out.Stream("stdout", "\xb5\xff")
		case "warn":
			out.Stream("stderr", rest+"\n")
		case "show":
			out.Event(show.Event{Kind: show.KindDisplay, Values: []any{rest}})
		case "live":
			out.Event(show.Event{Kind: show.KindDisplay, ID: first, Values: []any{second}})
		case "update":
			out.Event(show.Event{Kind: show.KindUpdate, ID: first, Values: []any{second}})
		case "clear":
			out.Event(show.Event{Kind: show.KindClear})
		case "wait":
			out.Event(show.Event{Kind: show.KindClear, Wait: true})
		case "page":
			out.Event(show.Event{Kind: show.KindPage, Text: rest})
		case "many":
			printFromManyGoroutines(out)
		case "value":
			outcome.Values = []any{rest}
		case "cancel":
			s.cancel()
		case "fail":
			outcome.Err = diag.List{diag.New("type", cell, 0, 4, rest)}
		}
	}
	return outcome
}

func printFromManyGoroutines(out Receiver) {
	var group sync.WaitGroup
	for range 8 {
		group.Go(func() {
			for range 100 {
				out.Stream("stdout", "x")
			}
		})
	}
	group.Wait()
}

func code(sources ...string) *Notebook {
	nb := &Notebook{}
	for _, source := range sources {
		nb.Cells = append(nb.Cells, Cell{Kind: Code, Source: source})
	}
	return nb
}

// sketch writes the outputs of a cell in short.
func sketch(c *Cell) string {
	var parts []string
	for _, o := range c.Outputs {
		switch o.Kind {
		case Stream:
			parts = append(parts, fmt.Sprintf("%s %q", o.Name, o.Text))
		case Display, Result:
			parts = append(parts, fmt.Sprintf("%s %v", o.Kind, o.Data["text/plain"]))
		case Failure:
			parts = append(parts, fmt.Sprintf("error %s: %s", o.ErrorName, o.ErrorValue))
		}
	}
	return strings.Join(parts, "; ")
}

func TestRunCollectsOutputs(t *testing.T) {
	tests := []struct{ name, cell, want string }{
		{"nothing", "x := 1", ""},
		{"streams join by name", "print a\nprint b\nwarn c\nprint d", `stdout "a\nb\n"; stderr "c\n"; stdout "d\n"`},
		{"a character cut in two, and a bad byte", "bytes", `stdout "µ�"`},
		{"value", "value 7", `execute_result "7"`},
		{"value behind output", "print a\nshow b\nvalue 7", `stdout "a\n"; display_data "b"; execute_result "7"`},
		{"error keeps output", "print a\nfail no such name", `stdout "a\n"; error type error: no such name`},
		{"update in place", "live p 10\nshow z\nupdate p 20\nupdate p 30", `display_data "30"; display_data "z"`},
		{"update of what is not there", "update q 1\nshow z", `display_data "1"; display_data "z"`},
		{"update of what was cleared", "live q 1\nclear\nupdate q 2\nshow z", `display_data "z"`},
		{"clear", "print a\nshow b\nclear\nprint c", `stdout "c\n"`},
		{"clear waits", "print a\nwait\npage x\nprint c", `stdout "c\n"`},
		{"clear waits for ever", "print a\nwait", `stdout "a\n"`},
		{"clear cancels waiting", "print a\nwait\nclear\nprint b\nprint c", `stdout "b\nc\n"`},
		{"pager", "page long text", ""},
		{"goroutines", "many", fmt.Sprintf("stdout %q", strings.Repeat("x", 800))},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			nb := code(test.cell)
			err := Run(t.Context(), nb, &script{}, Options{})
			if failing := strings.Contains(test.cell, "fail"); failing != (err != nil) {
				t.Fatalf("error %v", err)
			}
			if diff := cmp.Diff(test.want, sketch(&nb.Cells[0])); diff != "" {
				t.Errorf("outputs (-want +got):\n%s", diff)
			}
			validate(t, mustWrite(t, nb))
		})
	}
}

func TestUpdateReachesEarlierCells(t *testing.T) {
	nb := code("live p 10", "update p 20")
	if err := Run(t.Context(), nb, &script{}, Options{}); err != nil {
		t.Fatal(err)
	}
	if got := sketch(&nb.Cells[0]); got != `display_data "20"` {
		t.Errorf("the first cell shows %s", got)
	}
	if got := sketch(&nb.Cells[1]); got != `display_data "20"` {
		t.Errorf("the second cell shows %s", got)
	}
}

func TestRunCountsAndNames(t *testing.T) {
	nb := code("a", "  \n", "b")
	nb.Cells = append([]Cell{{Kind: Markdown, Source: "# T"}}, nb.Cells...)
	nb.Cells[2].Outputs, nb.Cells[2].Count = []Output{{Kind: Stream, Name: "stdout", Text: "old"}}, 9
	session := &script{}
	var steps []Step
	err := Run(t.Context(), nb, session, Options{Step: func(s Step) { steps = append(steps, s) }})
	if err != nil {
		t.Fatal(err)
	}
	want := []source.Cell{{Name: "cell 1", Count: 1, Text: "a"}, {Name: "cell 2", Count: 2, Text: "b"}}
	if diff := cmp.Diff(want, session.ran); diff != "" {
		t.Errorf("cells run (-want +got):\n%s", diff)
	}
	if nb.Cells[1].Count != 1 || nb.Cells[2].Count != 0 || nb.Cells[3].Count != 2 || len(nb.Cells[2].Outputs) != 0 {
		t.Errorf("counts and outputs after the run: %+v", nb.Cells)
	}
	wantSteps := []Step{{1, 2, false, false}, {1, 2, true, false}, {2, 2, false, false}, {2, 2, true, false}}
	if diff := cmp.Diff(wantSteps, steps); diff != "" {
		t.Errorf("steps (-want +got):\n%s", diff)
	}
}

func TestRunStopsAtFirstFailure(t *testing.T) {
	nb := code("print a", "fail no", "print never")
	nb.Cells[2].Outputs = []Output{{Kind: Stream, Name: "stdout", Text: "stale"}}
	err := Run(t.Context(), nb, &script{}, Options{})
	var failed *CellError
	if !errors.As(err, &failed) || failed.Cell != "cell 2" || !strings.Contains(err.Error(), "cell 2: type error: no") {
		t.Fatalf("error %v", err)
	}
	var list diag.List
	if !errors.As(err, &list) {
		t.Error("the session's own error is lost")
	}
	if got := sketch(&nb.Cells[2]); got != "" || nb.Cells[2].Count != 0 {
		t.Errorf("a cell that did not run shows %s", got)
	}
	if len(nb.Cells[1].Outputs) != 1 || len(nb.Cells[1].Outputs[0].Traceback) == 0 {
		t.Errorf("the failing cell shows %+v", nb.Cells[1].Outputs)
	}
}

func TestExpectedFailureGoesOn(t *testing.T) {
	nb := code("fail wanted", "value 1")
	nb.Cells[0].Metadata = map[string]any{"tags": []any{"raises-exception"}}
	if err := Run(t.Context(), nb, &script{}, Options{}); err != nil {
		t.Fatal(err)
	}
	if got := sketch(&nb.Cells[0]) + " | " + sketch(&nb.Cells[1]); got != `error type error: wanted | execute_result "1"` {
		t.Errorf("outputs %s", got)
	}
}

func TestRunStopsWhenCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	nb := code("cancel", "print never")
	err := Run(ctx, nb, &script{cancel: cancel}, Options{})
	if !errors.Is(err, context.Canceled) || !strings.Contains(err.Error(), "before cell 2") {
		t.Errorf("error %v", err)
	}
	nb = code("cancel\nfail stopped", "print never")
	nb.Cells[0].Metadata = map[string]any{"tags": []any{"raises-exception"}}
	ctx, cancel = context.WithCancel(t.Context())
	if err := Run(ctx, nb, &script{cancel: cancel}, Options{}); err == nil {
		t.Error("a cell that expects to fail hid that the run was cancelled")
	}
}

func TestLateOutputIsDropped(t *testing.T) {
	nb := code("print a")
	var late Receiver
	session := sessionFunc(func(out Receiver) { late = out; out.Stream("stdout", "a") })
	if err := Run(t.Context(), nb, session, Options{}); err != nil {
		t.Fatal(err)
	}
	late.Stream("stdout", "late")
	late.Event(show.Event{Kind: show.KindDisplay, Values: []any{"late"}})
	if got := sketch(&nb.Cells[0]); got != `stdout "a"` {
		t.Errorf("outputs %s", got)
	}
}

type sessionFunc func(Receiver)

func (f sessionFunc) Run(_ context.Context, _ source.Cell, out Receiver) Outcome {
	f(out)
	return Outcome{}
}

func TestMetadata(t *testing.T) {
	options := Options{
		LanguageInfo: map[string]any{"name": "go", "file_extension": ".go"},
		KernelSpec:   map[string]any{"name": "cobber", "display_name": "Cobber", "language": "go"},
	}
	nb := code("a")
	if err := Run(t.Context(), nb, &script{}, options); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(map[string]any{"language_info": options.LanguageInfo, "kernelspec": options.KernelSpec}, nb.Metadata); diff != "" {
		t.Errorf("metadata (-want +got):\n%s", diff)
	}
	own := map[string]any{"name": "cobber-1", "display_name": "Mine", "language": "go"}
	nb = code("a")
	nb.Metadata = map[string]any{"kernelspec": own}
	if err := Run(t.Context(), nb, &script{}, options); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(own, nb.Metadata["kernelspec"]); diff != "" {
		t.Errorf("the kernel that the notebook names was changed:\n%s", diff)
	}
}

func TestOtherLanguagesAreRefused(t *testing.T) {
	for _, metadata := range []string{`{"kernelspec":{"language":"python"}}`, `{"language_info":{"name":"R"}}`} {
		nb, session := code("a"), &script{}
		if err := json.Unmarshal([]byte(metadata), &nb.Metadata); err != nil {
			t.Fatal(err)
		}
		err := Run(t.Context(), nb, session, Options{})
		if err == nil || !strings.Contains(err.Error(), "cobber runs Go") || len(session.ran) > 0 {
			t.Errorf("%s: error %v, %d cells run", metadata, err, len(session.ran))
		}
	}
}
