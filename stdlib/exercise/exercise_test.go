package exercise

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

func q(value float64, unit string) quantity.Quantity { return quantity.Of(value, unit) }

// recoveryTask is the two-product formula: R = c(f − t)/(f(c − t)).
func recoveryTask(t *testing.T, parts ...Part) Task {
	t.Helper()
	yield := func(v Values) (quantity.Quantity, error) {
		f, c, w := v.Of("feed"), v.Of("concentrate"), v.Of("tailing")
		return f.Sub(w).Div(c.Sub(w)), nil
	}
	recovery := func(v Values) (quantity.Quantity, error) {
		y, err := yield(v)
		return y.Mul(v.Of("concentrate")).Div(v.Of("feed")), err
	}
	parts = append([]Part{
		Vary("feed", q(2, "%"), q(4, "%"), q(0.1, "%")), Vary("concentrate", q(20, "%"), q(30, "%"), q(0.5, "%")), Vary("tailing", q(0.2, "%"), q(0.6, "%"), q(0.05, "%")),
		Mistake("That is the yield.", yield), Hint("The feed holds {feed}."), In("%"),
	}, parts...)
	task, err := New("Recovery", "A feed of {feed} gives a concentrate of {concentrate} and a tailing of {tailing}. What is the recovery?", recovery, parts...)
	if err != nil {
		t.Fatal(err)
	}
	return task
}

// Copper ore of 10 % Cu parted into 30 % and 1 %: a GATE examination item whose
// key prints a recovery of 93 % (93.1034) and C/F = 0.310345.
func TestMarksTellWhatIsWrong(t *testing.T) {
	task, err := New("Recovery", "{feed} {concentrate} {tailing}", func(v Values) (quantity.Quantity, error) {
		f, c, w := v.Of("feed"), v.Of("concentrate"), v.Of("tailing")
		return c.Mul(f.Sub(w)).Div(f.Mul(c.Sub(w))), nil
	}, Choose("feed", q(10, "%")), Choose("concentrate", q(30, "%")), Choose("tailing", q(1, "%")), In("%"),
		Mistake("That is the yield.", func(v Values) (quantity.Quantity, error) {
			return v.Of("feed").Sub(v.Of("tailing")).Div(v.Of("concentrate").Sub(v.Of("tailing"))), nil
		}))
	if err != nil {
		t.Fatal(err)
	}
	e, err := task.Give(1)
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		answer  string
		verdict Verdict
		comment string
	}{
		{"93.1 %", Right, ""},
		{"0.931", Right, ""},
		{"93.1", WrongUnit, "number is right"},
		{"0.931 %", WrongMethod, "factor of 100"},
		{"31.0345 %", WrongMethod, "That is the yield."},
		{"6.9 %", WrongMethod, "other product"},
		{"-93.1 %", WrongMethod, "sign"},
		{"96 %", WrongValue, "close"},
		{"99 %", WrongValue, "too large"},
		{"50 %", WrongValue, "too small"},
		{"93.1 t/h", WrongUnit, "The number is right, and the unit measures something else"},
		{"5 t/h", WrongUnit, "It measures something else"},
		{"much", Unreadable, "Write a number and a unit"},
	}
	for _, test := range tests {
		m := e.MarkText(test.answer)
		if m.Verdict != test.verdict || !strings.Contains(m.Comment, test.comment) {
			t.Errorf("%s: %v (%s), want %v with %q", test.answer, m.Verdict, m.Comment, test.verdict, test.comment)
		}
		if m.Verdict != Right && strings.Contains(m.String(), "93.103") {
			t.Errorf("the mark tells the answer: %s", m)
		}
	}
}

func TestMarksOfFlows(t *testing.T) {
	task, err := New("Dry solids", "A belt carries {belt} of wet ore with {water} of water. How much is dry?", func(v Values) (quantity.Quantity, error) {
		return v.Of("belt").Mul(quantity.Number(1).Sub(v.Of("water"))), nil
	}, Choose("belt", q(200, "t/h")), Choose("water", q(8, "%")), Moisture("water"), Within(q(1, "t/h")))
	if err != nil {
		t.Fatal(err)
	}
	e, err := task.Give(0)
	if err != nil {
		t.Fatal(err)
	}
	// Dry is 184 t/h. An answer of the belt's own 200 t/h is the wet basis.
	for answer, want := range map[string]Mark{
		"184 t/h": {Verdict: Right}, "184.9 t/h": {Verdict: Right}, "51.1 kg/s": {Verdict: Right}, "184": {Verdict: WrongUnit, Comment: "needs a unit"},
		"184 kg/h": {Verdict: WrongUnit, Comment: "Look at its unit"}, "200 t/h": {Verdict: WrongMethod, Comment: "basis of moisture"},
		"4416 t/h": {Verdict: WrongMethod, Comment: "hours and days"}, "184 t": {Verdict: WrongUnit, Comment: "the unit measures something else"},
		"11040 t/h": {Verdict: WrongMethod, Comment: "minutes"}, "186 t/h": {Verdict: WrongValue, Comment: "close"},
	} {
		if m := e.MarkText(answer); m.Verdict != want.Verdict || !strings.Contains(m.Comment, want.Comment) {
			t.Errorf("%s: %v (%s), want %v with %q", answer, m.Verdict, m.Comment, want.Verdict, want.Comment)
		}
	}
}

func TestAnswersWithinARange(t *testing.T) {
	task, err := NewRange("Aperture", "Which aperture passes grains of {d}?", func(v Values) (low, high quantity.Quantity, err error) {
		return v.Of("d").Mul(quantity.Number(1.1)), v.Of("d").Mul(quantity.Number(1.3)), nil
	}, Choose("d", q(100, "µm")))
	if err != nil {
		t.Fatal(err)
	}
	e, err := task.Give(3)
	if err != nil {
		t.Fatal(err)
	}
	for answer, want := range map[string]Verdict{"110 µm": Right, "0.12 mm": Right, "130 µm": Right, "131 µm": WrongValue, "109 µm": WrongValue, "120 mm": WrongUnit, "12 mm": WrongMethod} {
		if m := e.MarkText(answer); m.Verdict != want {
			t.Errorf("%s: %v, want %v (%s)", answer, m.Verdict, want, m.Comment)
		}
	}
	if got := e.Solution().String(); !strings.HasPrefix(got, "120") {
		t.Errorf("the middle is %s", got)
	}
}

// Properties over many seeds: the answer is right in every unit, values lie on
// their steps, the same seed gives the same question, and others do not all.
func TestSeeds(t *testing.T) {
	task := recoveryTask(t)
	questions := map[string]bool{}
	for seed := range uint64(500) {
		e, err := task.Give(seed)
		if err != nil {
			t.Fatal(err)
		}
		again, _ := task.Give(seed)
		if e.Question() != again.Question() || !e.Solution().Equal(again.Solution()) {
			t.Fatalf("seed %d gave two exercises", seed)
		}
		questions[e.Question()] = true
		for _, answer := range []quantity.Quantity{e.Solution(), quantity.Number(e.Solution().SI()), e.Solution().Mul(quantity.Number(1.0099))} {
			if m := e.Mark(answer); m.Verdict != Right {
				t.Errorf("seed %d: %v", seed, m)
			}
		}
		if m := e.Mark(e.wrong[0]); m.Verdict != WrongMethod || m.Comment != "That is the yield." {
			t.Errorf("seed %d: the yield is marked %v", seed, m)
		}
		feed := e.Values().Of("feed").Shown()
		if feed < 2 || feed > 4 || len(fmt.Sprint(feed)) > 3 {
			t.Errorf("seed %d: a feed of %v", seed, feed)
		}
	}
	if len(questions) < 400 {
		t.Errorf("500 seeds gave %d questions", len(questions))
	}
}

func TestNothingShowsTheAnswer(t *testing.T) {
	task := recoveryTask(t)
	e, err := task.GiveTo("  ada   LOVELACE ")
	if err != nil {
		t.Fatal(err)
	}
	same, _ := task.GiveTo("Ada Lovelace")
	if e.Question() != same.Question() {
		t.Error("the case of a name changes the numbers")
	}
	answer, _ := e.Solution().Value("%")
	short := fmt.Sprintf("%.1f", answer)
	for _, text := range []string{e.String(), e.Markdown(), fmt.Sprintf("%v %+v %#v %s", e, e, e, e)} {
		if strings.Contains(text, short) {
			t.Errorf("the answer %s stands in %s", short, text)
		}
	}
	hint, err := e.Hint(1)
	if err != nil || hint.String() != "The feed holds "+e.Values().Of("feed").String()+"." {
		t.Errorf("hint %q, %v", hint, err)
	}
	if _, err := e.Hint(2); err == nil {
		t.Error("a hint that there is none of")
	}
}

func TestBracesOfFormulasAreNoPlaces(t *testing.T) {
	task, err := New("n", `$F_{a} = \sqrt{a} + \frac{a}{a}$ for {a}`, func(v Values) (quantity.Quantity, error) { return v.Of("a"), nil }, Choose("a", q(4, "t")))
	if err != nil {
		t.Fatal(err)
	}
	e, err := task.Give(0)
	if want := `$F_{a} = \sqrt{a} + \frac{a}{a}$ for 4 t`; err != nil || e.Question() != want {
		t.Errorf("the question is %s, %v", e.Question(), err)
	}
}

func TestClass(t *testing.T) {
	sheet, err := Class([]string{"Ada", "Ben"}, recoveryTask(t))
	if err != nil {
		t.Fatal(err)
	}
	e, _ := recoveryTask(t).GiveTo("ben")
	text := sheet.String()
	for _, want := range []string{"Ada", "Ben", "Recovery", e.Solution().String(), "feed " + e.Values().Of("feed").String()} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet lacks %q:\n%s", want, text)
		}
	}
	marks, err := sheet.Marks("BEN", e.Solution().String())
	if err != nil || len(marks) != 1 || marks[0].Verdict != Right {
		t.Errorf("marks %v, %v", marks, err)
	}
	if marks, err = sheet.Marks("Ben", ""); err != nil || marks[0].Verdict != Unreadable {
		t.Errorf("no answer: %v, %v", marks, err)
	}
	for name, f := range map[string]func() error{
		"a stranger":     func() error { _, err := sheet.Marks("Eve", "1"); return err },
		"two answers":    func() error { _, err := sheet.Marks("Ada", "1", "2"); return err },
		"twice the name": func() error { _, err := Class([]string{"Ada", "ada "}, recoveryTask(t)); return err },
		"twice the task": func() error { _, err := Class([]string{"Ada"}, recoveryTask(t), recoveryTask(t)); return err },
		"nobody":         func() error { _, err := Class(nil, recoveryTask(t)); return err },
	} {
		if f() == nil {
			t.Errorf("%s is accepted", name)
		}
	}
}

func TestFaultsOfTasks(t *testing.T) {
	answer := func(v Values) (quantity.Quantity, error) { return v.Of("a"), nil }
	vary := Vary("a", q(1, "t"), q(2, "t"), q(0.5, "t"))
	tests := []struct {
		name string
		make func() (Task, error)
		want string
	}{
		{"no answer", func() (Task, error) { return New("n", "{a}", nil, vary) }, "no function"},
		{"no text", func() (Task, error) { return New("n", "", answer, vary) }, "is empty"},
		{"no value", func() (Task, error) { return New("n", "{a} {b}", answer, vary) }, "no value for {b}"},
		{"no place", func() (Task, error) { return New("n", "text", answer, vary) }, "no place {a}"},
		{"twice", func() (Task, error) { return New("n", "{a}", answer, vary, vary) }, "two values are called a"},
		{"asks in vain", func() (Task, error) {
			return New("n", "{a}", func(v Values) (quantity.Quantity, error) { return v.Of("b"), nil }, vary)
		}, "asks for the value b, which is none of a"},
		{"fails", func() (Task, error) {
			return New("n", "{a}", func(Values) (quantity.Quantity, error) { return quantity.Quantity{}, errors.New("no luck") }, vary)
		}, "no luck"},
		{"steps of another dimension", func() (Task, error) { return New("n", "{a}", answer, Vary("a", q(1, "t"), q(2, "t"), q(1, "h"))) }, "not of one dimension"},
		{"steps downward", func() (Task, error) { return New("n", "{a}", answer, Vary("a", q(2, "t"), q(1, "t"), q(1, "t"))) }, "lead upward"},
		{"nothing to choose", func() (Task, error) { return New("n", "{a}", answer, Choose("a")) }, "nothing to choose"},
		{"unknown unit", func() (Task, error) { return New("n", "{a}", answer, vary, In("tonnen")) }, "tonnen"},
		{"unit of another dimension", func() (Task, error) { return New("n", "{a}", answer, vary, In("h")) }, "n"},
		{"tolerance of another dimension", func() (Task, error) { return New("n", "{a}", answer, vary, Within(q(1, "h"))) }, "cannot be within"},
		{"no tolerance", func() (Task, error) { return New("n", "{a}", answer, vary, Within(q(0, "%"))) }, "above 0"},
		{"moisture of no value", func() (Task, error) { return New("n", "{a}", answer, vary, Moisture("w")) }, "Moisture names w"},
		{"empty part", func() (Task, error) { return New("n", "{a}", answer, vary, Part{}) }, "a part is empty"},
		{"range out of order", func() (Task, error) {
			return NewRange("n", "{a}", func(v Values) (low, high quantity.Quantity, err error) { return q(2, "t"), q(1, "t"), nil }, vary)
		}, "low end first"},
	}
	for _, test := range tests {
		if _, err := test.make(); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: error %v, want one with %q", test.name, err, test.want)
		}
	}
}

func ExampleNew() {
	task, err := New("Concentrate", "A plant treats {feed} and makes a concentrate of {yield} of the feed. How much is that?",
		func(v Values) (quantity.Quantity, error) { return v.Of("feed").Mul(v.Of("yield")), nil },
		Choose("feed", quantity.Of(40, "t/h")), Choose("yield", quantity.Of(15, "%")))
	if err != nil {
		panic(err)
	}
	exercise, err := task.GiveTo("Ada")
	if err != nil {
		panic(err)
	}
	fmt.Println(exercise.Question())
	fmt.Println(exercise.MarkText("6 t/h"))
	fmt.Println(exercise.MarkText("600 t/h"))
	// Output:
	// A plant treats 40 t/h and makes a concentrate of 15 % of the feed. How much is that?
	// 6 t/h: right.
	// 600 t/h: wrong method. It is a factor of 100 away. Is a percentage taken for a share, or the other way round?
}
