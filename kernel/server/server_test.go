package server_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	"cobber/kernel/kerneltest"
	"cobber/kernel/server"
)

type object = map[string]any

func start(t *testing.T) (*kerneltest.FrontEnd, *fakeSession) {
	session := &fakeSession{}
	return kerneltest.NewFrontEnd(t, session), session
}

// The order of messages is that of the messaging protocol: busy, the cell's
// text, output, idle. Which messages a cell makes is seen here too.
func TestOrder(t *testing.T) {
	tests := []struct{ name, code, want string }{
		{"nothing", "nop", "busy execute_input idle reply:ok"},
		{"blank", " \n", "busy idle reply:ok"},
		{"text", "print a", "busy execute_input stream idle reply:ok"},
		{"one stream is one message", "print a\nprint b", "busy execute_input stream idle reply:ok"},
		{"two streams keep their order", "print a\neprint b\nprint c", "busy execute_input stream stream stream idle reply:ok"},
		{"result", "print a\nvalue 1", "busy execute_input stream execute_result idle reply:ok"},
		{"nil result", "nothing", "busy execute_input idle reply:ok"},
		{"values shown", "print a\nshow x", "busy execute_input stream display_data display_data idle reply:ok"},
		{"place that changes", "live 1\nlive 2", "busy execute_input display_data update_display_data idle reply:ok"},
		{"clear", "print a\nclear wait\nprint b", "busy execute_input stream clear_output stream idle reply:ok"},
		{"error", "print a\nfail b", "busy execute_input stream error idle reply:error"},
		{"fault", "print a\nfault b", "busy execute_input stream error idle reply:error"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			f, _ := start(t)
			if got := f.Run(test.code).String(); got != test.want {
				t.Errorf("got  %s\nwant %s", got, test.want)
			}
		})
	}
}

func TestCount(t *testing.T) {
	f, _ := start(t)
	count := func(code string, more ...any) string {
		e := f.Run(code, more...)
		text := fmt.Sprint(e.Reply().Content["execution_count"])
		for _, m := range append(e.Of("execute_input"), e.Of("execute_result")...) {
			text += fmt.Sprint(" ", m.Content["execution_count"])
		}
		return text
	}
	for _, step := range []struct{ got, want string }{
		{count("value 1"), "1 1 1"},
		{count("fail"), "2 2"},
		{count("value 1", "store_history", false), "2 2 2"},
		{count("value 1", "silent", true), "2"},
		{count("", "silent", true), "2"},
		{count("value 1"), "3 3 3"},
	} {
		if step.got != step.want {
			t.Errorf("got %s, want %s", step.got, step.want)
		}
	}
	if got := f.Run("name").Result("text/plain"); got != `"cell 4"` {
		t.Errorf("the cell's name is %s", got)
	}
}

func TestSilent(t *testing.T) {
	f, _ := start(t)
	e := f.Run("print a\nshow 1\nclear\nvalue 1", "silent", true)
	if e.String() != "busy idle reply:ok" {
		t.Errorf("got %s", e)
	}
	if e = f.Run("fail a", "silent", true); e.String() != "busy idle reply:error" || e.Reply().Content["evalue"] != "a" {
		t.Errorf("got %s", e)
	}
}

func TestStreams(t *testing.T) {
	f, _ := start(t)
	text := strings.Repeat("µ° ", 1000)
	if got := f.Run("bytes " + text + "x").Text("stdout"); got != text+"x" {
		t.Errorf("characters were cut: %d bytes of %d", len(got), len(text)+1)
	}
	flood := f.Run("flood 100000")
	if got := len(flood.Text("stdout")); got != 1_100_000 {
		t.Errorf("%d bytes of a flood came", got)
	}
	if got := len(flood.Of("stream")); got > 200 {
		t.Errorf("a flood came in %d messages", got)
	}
	id := f.Execute("later done")
	f.AwaitThat(id, "output of a goroutine after the cell", func(e kerneltest.Exchange) bool {
		return e.Idle() && e.Text("stdout") == "done\n"
	})
}

func TestLongCellSpeaksWhileItRuns(t *testing.T) {
	f, _ := start(t)
	id := f.Execute("loop")
	f.AwaitThat(id, "text of a running cell", func(e kerneltest.Exchange) bool { return e.Text("stdout") != "" })
	f.Ask(server.Control, "interrupt_request", object{})
	f.Await(id)
}

func TestPage(t *testing.T) {
	f, _ := start(t)
	got := f.Run("page help").Reply().Content["payload"]
	want := []any{object{"source": "page", "start": 0.0, "data": object{"text/plain": "help"}}}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestUserExpressions(t *testing.T) {
	f, _ := start(t)
	e := f.Run("nop", "user_expressions", object{"a": "value 1", "b": "fail no", "c": "print x"})
	got := e.Reply().Content["user_expressions"].(object)
	if a := got["a"].(object); a["status"] != "ok" || a["data"].(object)["text/plain"] != `"1"` {
		t.Errorf("a is %v", a)
	}
	if b := got["b"].(object); b["status"] != "error" || b["evalue"] != "no" {
		t.Errorf("b is %v", b)
	}
	if c := got["c"].(object); c["status"] != "ok" || e.Text("stdout") != "" {
		t.Errorf("c is %v, and printed %q", c, e.Text("stdout"))
	}
}

func TestErrorAbortsWhatWaits(t *testing.T) {
	for _, test := range []struct {
		stop bool
		want string
	}{
		{true, "busy idle reply:aborted"},
		{false, "busy execute_input stream idle reply:ok"},
	} {
		f, _ := start(t)
		failing := f.Execute("later x\nfail", "stop_on_error", test.stop)
		waiting := f.Execute("print a")
		asking := f.Send(server.Shell, "complete_request", object{"code": "a", "cursor_pos": 1})
		f.Await(failing)
		if got := f.Await(waiting).String(); got != test.want {
			t.Errorf("stop_on_error %v: got %s, want %s", test.stop, got, test.want)
		}
		if got := f.Await(asking).Reply().Content["status"]; got != "ok" {
			t.Errorf("a completion in the queue is answered %v", got)
		}
		if got := f.Run("print a").String(); got != "busy execute_input stream idle reply:ok" {
			t.Errorf("a cell sent after the error: %s", got)
		}
	}
}

func TestInterrupt(t *testing.T) {
	f, session := start(t)
	running := f.Execute("loop", "stop_on_error", false)
	waiting := f.Execute("print a")
	f.AwaitThat(running, "the cell to run", func(e kerneltest.Exchange) bool { return e.Text("stdout") != "" })
	if got := f.Ask(server.Control, "interrupt_request", object{}).String(); got != "busy idle reply:ok" {
		t.Errorf("the interrupt: %s", got)
	}
	e := f.Await(running)
	if got := e.Reply().Content; got["ename"] != "interrupted" || got["execution_count"] != 1.0 {
		t.Errorf("the interrupted cell: %v", got)
	}
	if got := f.Await(waiting).Reply().Content["status"]; got != "aborted" {
		t.Errorf("the cell that waited: %v", got)
	}
	f.Ask(server.Control, "interrupt_request", object{}) // nothing runs
	if got := f.Run("print a").Text("stdout"); got != "a\n" {
		t.Errorf("after an interrupt while nothing ran: %q", got)
	}
	session.mu.Lock()
	defer session.mu.Unlock()
	if session.interrupted != 1 {
		t.Errorf("the session was interrupted %d times, not once", session.interrupted)
	}
}

// A front end takes the last status for that of the kernel.
func TestStatusStaysBusyWhileACellRuns(t *testing.T) {
	f, _ := start(t)
	running := f.Execute("loop")
	f.AwaitThat(running, "the cell to run", func(e kerneltest.Exchange) bool { return e.Text("stdout") != "" })
	round := 0
	for _, request := range []struct {
		channel server.Channel
		msgType string
	}{
		{server.Shell, "kernel_info_request"}, {server.Control, "kernel_info_request"}, {server.Shell, "comm_info_request"},
	} {
		f.Ask(request.channel, request.msgType, object{})
		round++
		f.AwaitThat(running, "busy to be said again", func(e kerneltest.Exchange) bool { return len(e.Of("status")) == 1+round })
		if got := lastStatus(f); got != "busy" {
			t.Errorf("the last status is %s", got)
		}
	}
	f.Ask(server.Control, "interrupt_request", object{})
	f.Await(running)
	if got := lastStatus(f); got != "idle" {
		t.Errorf("the last status is %s", got)
	}
}

func lastStatus(f *kerneltest.FrontEnd) string {
	all := kerneltest.Exchange(f.All()).Of("status")
	return fmt.Sprint(all[len(all)-1].Content["execution_state"])
}

func TestShutdown(t *testing.T) {
	for _, restart := range []bool{false, true} {
		f, session := start(t)
		running := f.Execute("loop")
		f.AwaitThat(running, "the cell to run", func(e kerneltest.Exchange) bool { return e.Text("stdout") != "" })
		e := f.Ask(server.Control, "shutdown_request", object{"restart": restart})
		if got := e.Reply().Content["restart"]; got != restart {
			t.Errorf("restart is answered %v", got)
		}
		if len(e.Of("shutdown_reply")) != 2 {
			t.Errorf("the other front ends were not told: %s", e)
		}
		f.Await(running)
		for end := time.Now().Add(10 * time.Second); ; time.Sleep(time.Millisecond) {
			session.mu.Lock()
			closed := session.closed
			session.mu.Unlock()
			if closed {
				break
			}
			if time.Now().After(end) {
				t.Fatal("the session was not closed")
			}
		}
	}
}

func TestShutdownDoesNotWaitForADeafCell(t *testing.T) {
	f, _ := start(t)
	f.Execute("deaf")
	f.Ask(server.Control, "shutdown_request", object{"restart": false})
}

func TestInput(t *testing.T) {
	f, _ := start(t)
	f.Answer = func(prompt string) string { return "answer to " + prompt }
	if got := f.Run("ask grade").Result("text/plain"); got != `"answer to grade"` {
		t.Errorf("got %s", got)
	}
	e := f.Run("ask grade", "allow_stdin", false)
	if got := e.Reply().Content["evalue"]; got != server.ErrNoInput.Error() {
		t.Errorf("where input is not allowed: %v", got)
	}
	f.Answer = nil
	e = f.Run("ask grade", "allow_stdin", true)
	if got := e.Reply().Content["evalue"]; got != server.ErrNoInput.Error() {
		t.Errorf("where nobody listens for questions: %v", got)
	}
}
