package server_test

import (
	"fmt"
	"reflect"
	"testing"

	"cobber/kernel/kerneltest"
	"cobber/kernel/server"
)

func TestKernelInfo(t *testing.T) {
	f, _ := start(t)
	for _, channel := range []server.Channel{server.Shell, server.Control} {
		e := f.Ask(channel, "kernel_info_request", object{})
		content := e.Reply().Content
		if content["protocol_version"] != "5.5" || content["implementation"] != "cobber" {
			t.Errorf("got %v", content)
		}
		want := object{"name": "go", "version": "1.26", "mimetype": "text/x-go", "file_extension": ".go", "pygments_lexer": "go", "codemirror_mode": "go"}
		if got := content["language_info"]; !reflect.DeepEqual(got, want) {
			t.Errorf("language_info is %v", got)
		}
		if e.String() != "busy idle reply:ok" {
			t.Errorf("got %s", e)
		}
	}
}

func TestIsComplete(t *testing.T) {
	f, _ := start(t)
	for code, want := range map[string]object{
		"a":   {"status": "complete"},
		"a {": {"status": "incomplete", "indent": "\t"},
		"a }": {"status": "invalid"},
	} {
		if got := f.Ask(server.Shell, "is_complete_request", object{"code": code}).Reply().Content; !reflect.DeepEqual(got, want) {
			t.Errorf("%q: got %v, want %v", code, got, want)
		}
	}
}

func TestComplete(t *testing.T) {
	f, _ := start(t)
	tests := []struct {
		name       string
		content    object
		start, end float64
		matches    int
	}{
		{"in code points", object{"code": "µµM", "cursor_pos": 3}, 2, 3, 1},
		{"without a cursor", object{"code": "µµM"}, 2, 3, 1},
		{"cursor beyond the end", object{"code": "µM", "cursor_pos": 99}, 1, 2, 1},
		{"nothing", object{"code": "", "cursor_pos": 0}, 0, 0, 0},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := f.Ask(server.Shell, "complete_request", test.content).Reply().Content
			types := got["metadata"].(object)["_jupyter_types_experimental"].([]any)
			if got["cursor_start"] != test.start || got["cursor_end"] != test.end || len(got["matches"].([]any)) != test.matches || len(types) != test.matches {
				t.Errorf("got %v", got)
			}
			if test.matches > 0 && !reflect.DeepEqual(types[0], object{"start": test.start, "end": test.end, "text": "Mass", "type": "function", "signature": "func Mass() float64"}) {
				t.Errorf("type is %v", types[0])
			}
		})
	}
}

func TestFaultInAHandlerEndsNothing(t *testing.T) {
	f, _ := start(t)
	got := f.Ask(server.Shell, "complete_request", object{"code": "panic", "cursor_pos": 1}).Reply().Content
	if got["status"] != "error" {
		t.Errorf("got %v", got)
	}
	if got := f.Run("print a").Text("stdout"); got != "a\n" {
		t.Errorf("afterwards: %q", got)
	}
}

func TestInspect(t *testing.T) {
	f, _ := start(t)
	got := f.Ask(server.Shell, "inspect_request", object{"code": "F", "cursor_pos": 1, "detail_level": 0}).Reply().Content
	if want := (object{"text/plain": "func F()", "text/markdown": "`func F()`", "text/html": "<code>func F()</code>"}); got["found"] != true || !reflect.DeepEqual(got["data"], want) {
		t.Errorf("got %v", got)
	}
	got = f.Ask(server.Shell, "inspect_request", object{"code": "G", "cursor_pos": 1, "detail_level": 0}).Reply().Content
	if got["found"] != false || len(got["data"].(object)) != 0 {
		t.Errorf("got %v", got)
	}
}

func TestHistory(t *testing.T) {
	f, _ := start(t)
	for _, code := range []string{"value 1", "print a", "value 1", "value [2]", "fail"} {
		f.Run(code)
	}
	f.Run("value 9", "store_history", false)
	f.Run("value 9", "silent", true)
	tests := []struct {
		name    string
		request object
		want    string
	}{
		{"tail", object{"hist_access_type": "tail", "n": 2}, "[[1 4 value [2]] [1 5 fail]]"},
		{"tail of more than there is", object{"hist_access_type": "tail", "n": 99, "output": true},
			`[[1 1 [value 1 "1"]] [1 2 [print a <nil>]] [1 3 [value 1 "1"]] [1 4 [value [2] "[2]"]] [1 5 [fail <nil>]]]`},
		{"range", object{"hist_access_type": "range", "session": 1, "start": 2, "stop": 4}, "[[1 2 print a] [1 3 value 1]]"},
		{"range to the end of the current session", object{"hist_access_type": "range", "session": 0, "start": 4}, "[[1 4 value [2]] [1 5 fail]]"},
		{"range of an earlier session", object{"hist_access_type": "range", "session": -1, "start": 1, "stop": 9}, "[]"},
		{"search", object{"hist_access_type": "search", "pattern": "value ?"}, "[[1 1 value 1] [1 3 value 1]]"},
		{"search unique", object{"hist_access_type": "search", "pattern": "v*", "unique": true}, "[[1 3 value 1] [1 4 value [2]]]"},
		{"search the last", object{"hist_access_type": "search", "pattern": "*", "n": 1}, "[[1 5 fail]]"},
		{"search a set", object{"hist_access_type": "search", "pattern": "[fp]*"}, "[[1 2 print a] [1 5 fail]]"},
		{"search outside a set", object{"hist_access_type": "search", "pattern": "[!v]*"}, "[[1 2 print a] [1 5 fail]]"},
		{"search an open bracket", object{"hist_access_type": "search", "pattern": "value [2"}, "[]"},
		{"nonsense", object{"hist_access_type": "all"}, "[]"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := f.Ask(server.Shell, "history_request", test.request).Reply().Content["history"]
			if fmt.Sprint(got) != test.want {
				t.Errorf("got  %v\nwant %s", got, test.want)
			}
		})
	}
}

func TestUnknownCommIsClosed(t *testing.T) {
	f, _ := start(t)
	id := f.Send(server.Shell, "comm_open", object{"comm_id": "c1", "target_name": "jupyter.widget", "data": object{}})
	e := f.AwaitThat(id, "idle", kerneltest.Exchange.Idle)
	if e.String() != "busy comm_close idle" || e.Of("comm_close")[0].Content["comm_id"] != "c1" {
		t.Errorf("got %s", e)
	}
	id = f.Send(server.Shell, "comm_msg", object{"comm_id": "c1", "data": object{}})
	if e := f.AwaitThat(id, "idle", kerneltest.Exchange.Idle); e.String() != "busy idle" {
		t.Errorf("comm_msg: got %s", e)
	}
	if got := f.Ask(server.Shell, "comm_info_request", object{}).Reply().Content["comms"]; len(got.(object)) != 0 {
		t.Errorf("open: %v", got)
	}
}

func TestUnknownRequestIsIgnored(t *testing.T) {
	f, _ := start(t)
	for _, channel := range []server.Channel{server.Shell, server.Control} {
		id := f.Send(channel, "usage_request", object{})
		if e := f.AwaitThat(id, "idle", kerneltest.Exchange.Idle); e.String() != "busy idle" {
			t.Errorf("got %s", e)
		}
	}
}

func TestMistypedContentIsAnswered(t *testing.T) {
	f, _ := start(t)
	for msgType, content := range map[string]object{
		"execute_request": {"code": 3}, "complete_request": {"code": 3}, "inspect_request": {"cursor_pos": "x"},
		"history_request": {"n": "x"},
	} {
		if got := f.Ask(server.Shell, msgType, content).Reply().Content; got["status"] != "error" {
			t.Errorf("%s: got %v", msgType, got)
		}
	}
}
