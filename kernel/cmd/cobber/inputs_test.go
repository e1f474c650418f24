package main

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"cobber/kernel/server"
)

// runReal runs the program with real sessions.
func runReal(args ...string) (code int, stderr string) {
	var out, errs bytes.Buffer
	p := &program{stdout: &out, stderr: &errs, newSession: func() (server.Session, error) { return newSession() }}
	code = p.main(args)
	return code, errs.String()
}

func TestSet(t *testing.T) {
	folder(t, map[string][]string{
		"a.ipynb": {"//cobber:inputs\nfeed := 40`t/h`\npasses := 3", "feed * passes"},
		"b.ipynb": {"//cobber:inputs\npasses := 5", "passes"},
		"c.ipynb": {"feed := 3"},
	})
	code, stderr := runReal("run", "a.ipynb", "b.ipynb", "-set", "feed=50 t/h", "-set", "passes=2", "-o", "done/", "-html", "done/")
	if code != ok {
		t.Fatalf("exit code %d: %s", code, stderr)
	}
	for name, want := range map[string]string{"a": "100 t/h", "b": "2"} {
		nb := read(t, "done/"+name+".ipynb")
		if got := nb.Cells[1].Outputs[0].Data["text/plain"]; got != want {
			t.Errorf("%s shows %v, want %s", name, got, want)
		}
	}
	inputs := read(t, "done/a.ipynb").Cells[0].Inputs()
	if len(inputs) != 2 || inputs[0].Value != "50 t/h" || inputs[0].Own != "40 t/h" || !inputs[0].Set {
		t.Errorf("the notebook keeps the inputs %+v", inputs)
	}
	page, err := os.ReadFile("done/a.html")
	if err != nil {
		t.Fatal(err)
	}
	want(t, "page", string(page), "<td><code>feed</code></td><td>50 t/h</td><td>yes, in place of 40 t/h</td>")
	if code, stderr := runReal("run", "done/a.ipynb", "-o", "again.ipynb"); code != ok {
		t.Fatal(stderr)
	}
	if again := read(t, "again.ipynb").Cells[0].Inputs(); len(again) != 2 || again[0].Set || again[0].Value != "40 t/h" {
		t.Errorf("another run keeps the inputs %+v", again)
	}
}

func TestWrongSet(t *testing.T) {
	folder(t, map[string][]string{"a.ipynb": {"//cobber:inputs\nfeed := 40`t/h`\npasses := 3"}, "c.ipynb": {"feed := 3"}})
	for _, c := range []struct {
		args string
		code int
		want string
	}{
		{"run a.ipynb -set fed=3", misused, "-set fed: there is no such input; there are feed, passes"},
		{"run c.ipynb -set feed=3", misused, "-set feed: there are no inputs: no cell begins with //cobber:inputs"},
		{"run a.ipynb -set feed", misused, "-set feed is not of the form NAME=VALUE"},
		{"run a.ipynb -set feed=3t/h -set feed=4t/h", misused, "-set gives feed twice"},
		{"run a.ipynb -set feed=3kWh", failed, "input"},
	} {
		code, stderr := runReal(strings.Fields(c.args)...)
		if code != c.code || !strings.Contains(stderr, c.want) {
			t.Errorf("%s: exit code %d, said %s", c.args, code, stderr)
		}
	}
}

func TestSetControls(t *testing.T) {
	const panel = `speed, err := control.Slide("drum speed", 20` + "`rpm`, 120`rpm`, 60`rpm`" + `)
show.Check(err)
wet, err := control.Turn("wet", false)
show.Check(err)
control.Show(func() any { return 2 * speed.Value() }, speed, wet)`
	folder(t, map[string][]string{
		"a.ipynb": {"//cobber:inputs\nfeed := 40`t/h`", panel, "speed.Value()"},
		"b.ipynb": {"feed := 3"},
	})
	code, stderr := runReal("run", "a.ipynb", "b.ipynb", "-set", "drum speed=80 rpm", "-set", "wet=on", "-set", "feed=50t/h", "-o", "done/")
	if code != ok {
		t.Fatalf("exit code %d: %s", code, stderr)
	}
	nb := read(t, "done/a.ipynb")
	if got := nb.Cells[1].Outputs[0].Data["text/plain"]; got != "drum speed: 80 rpm\nwet: on" {
		t.Errorf("the controls show %v", got)
	}
	if got := nb.Cells[1].Outputs[1].Data["text/plain"]; got != "160 rpm" {
		t.Errorf("the drawing shows %v", got)
	}
	for _, c := range []struct {
		set  string
		code int
		want string
	}{
		{"drum sped=80rpm", misused, "-set drum sped: no notebook has an input or a control of that name, and what was written is without it; the inputs are feed"},
		{"drum speed=800rpm", failed, "goes from 20 rpm to 120 rpm: 800 rpm is outside"},
		{"drum speed=8kW", failed, "takes what is measured in rpm"},
		{"wet=maybe", failed, `is on or off, not "maybe"`},
	} {
		if code, stderr := runReal("run", "a.ipynb", "-set", c.set); code != c.code || !strings.Contains(stderr, c.want) {
			t.Errorf("%s: exit code %d, said %s", c.set, code, stderr)
		}
	}
	if code, stderr := runReal("run", "a.ipynb", "-o", "plain.ipynb"); code != ok {
		t.Fatal(stderr)
	}
	if got := read(t, "plain.ipynb").Cells[2].Outputs[0].Data["text/plain"]; got != "60 rpm" {
		t.Errorf("the run after it begins at %v", got)
	}
}
