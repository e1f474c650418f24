package bound

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

type fixed struct {
	names     []Name
	forgotten []string
	stale     []StaleCell
}

func (f *fixed) Stale() []StaleCell { return f.stale }

func (f *fixed) Names() []Name { return f.names }
func (f *fixed) Forget(names []string) error {
	f.forgotten = append(f.forgotten, names...)
	return nil
}

func TestTheNewestSessionAnswers(t *testing.T) {
	if len(Names()) != 0 || !errors.Is(Forget("x"), ErrNoSession) {
		t.Error("somebody answers without a session")
	}
	first, second := &fixed{names: []Name{{Name: "x"}}}, &fixed{names: []Name{{Name: "y"}}}
	detachFirst := Attach(first)
	detachSecond := Attach(second)
	if got := Names()[0].Name; got != "y" {
		t.Errorf("with two sessions attached, %q answers", got)
	}
	detachSecond()
	if got := Names()[0].Name; got != "x" {
		t.Errorf("after the second has gone, %q answers", got)
	}
	if err := Forget("x", "z"); err != nil || !slices.Equal(first.forgotten, []string{"x", "z"}) || second.forgotten != nil {
		t.Errorf("forgotten: %v, %v, %v", first.forgotten, second.forgotten, err)
	}
	detachFirst()
	if len(Names()) != 0 {
		t.Error("a session that has gone answers")
	}
}

func TestListAsTable(t *testing.T) {
	l := List{
		{Name: "feed", Kind: "variable", Type: "quantity.Quantity", Bytes: 32, Cell: "cell 1"},
		{Name: "assays", Kind: "variable", Type: "[]float64", Bytes: 8_000_024, Cell: "cell 12"},
		{Name: "recovery", Kind: "function", Type: "func(float64) float64", Cell: "cell 2"},
	}
	for name, text := range map[string]string{"text": l.String(), "HTML": l.HTML(), "Markdown": l.Markdown(), "LaTeX": l.LaTeX()} {
		for _, want := range []string{"bound in", "feed", "32 B", "8 MB", "cell 12", "func(float64) float64"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s lacks %q:\n%s", name, want, text)
			}
		}
	}
	if text := (List)(nil).String(); !strings.Contains(text, "name") {
		t.Errorf("an empty list is shown as %q", text)
	}
}

func TestStale(t *testing.T) {
	if len(Stale()) != 0 {
		t.Error("cells are out of date in a program without a session")
	}
	detach := Attach(&fixed{stale: []StaleCell{{Cell: "cell 3", Code: "feed * 8", Why: "feed was changed by cell 7"}}})
	defer detach()
	list := Stale()
	for name, text := range map[string]string{"text": list.String(), "HTML": list.HTML(), "Markdown": list.Markdown(), "LaTeX": list.LaTeX()} {
		for _, want := range []string{"cell 3", "feed was changed by cell 7"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s lacks %q:\n%s", name, want, text)
			}
		}
	}
	if text := (StaleCells)(nil).String(); text != "No cell is out of date." {
		t.Errorf("no outdated cell is shown as %q", text)
	}
	note := Note("cell <3> is out of date")
	if note.String() != "cell <3> is out of date" || !strings.Contains(note.HTML(), "cell &lt;3&gt; is") {
		t.Errorf("the note is shown as %q and %q", note.String(), note.HTML())
	}
}

func TestAmount(t *testing.T) {
	for bytes, want := range map[int64]string{0: "0 B", 999: "999 B", 1000: "1 kB", 999_499: "999 kB", 999_500: "1 MB",
		12_345_678: "12.3 MB", 999_499_999: "999 MB", 999_500_000: "1 GB", 45e9: "45 GB"} {
		if got := amount(bytes); got != want {
			t.Errorf("%d bytes are %q, want %q", bytes, got, want)
		}
	}
}
