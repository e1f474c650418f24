package notebook

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

// validate checks the bytes of a notebook against the schema of format 4.5 that
// the Jupyter project publishes in its package nbformat (BSD licence).
func validate(t *testing.T, data []byte) {
	t.Helper()
	schema, err := jsonschema.NewCompiler().Compile(filepath.Join("testdata", "nbformat.v4.5.schema.json"))
	if err != nil {
		t.Fatal(err)
	}
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if err := schema.Validate(value); err != nil {
		t.Errorf("not a valid notebook of format 4.5: %v\n%s", err, data)
	}
}

func mustRead(t *testing.T, text string) *Notebook {
	t.Helper()
	nb, err := Read([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return nb
}

func mustWrite(t *testing.T, nb *Notebook) []byte {
	t.Helper()
	data, err := Write(nb)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// testdata/jupyter.ipynb was written by the Jupyter project's nbformat 5.11.1
// and holds what its layout treats specially: every line end that Python knows,
// JSON media types, numbers of several spellings, attachments, empty values.
func TestWritesAsJupyterDoes(t *testing.T) {
	want, err := os.ReadFile("testdata/jupyter.ipynb")
	if err != nil {
		t.Fatal(err)
	}
	nb, err := Read(want)
	if err != nil {
		t.Fatal(err)
	}
	got := mustWrite(t, nb)
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("read and written again (-Jupyter +cobber):\n%s", diff)
	}
	validate(t, got)
}

func TestRead(t *testing.T) {
	nb := mustRead(t, `{"nbformat":4,"nbformat_minor":5,"metadata":{},"cells":[
		{"cell_type":"code","id":"a","metadata":{"tags":["raises-exception"],"trusted":true},"source":["x := 1\n","x"],"execution_count":3,
		 "outputs":[{"output_type":"execute_result","execution_count":3,"metadata":{},"data":{"text/plain":["1","2"],"application/json":["1","2"]}},
		            {"output_type":"stream","name":"stdout","text":["a\n","b"]}]}]}`)
	c := nb.Cells[0]
	if c.Source != "x := 1\nx" || c.Count != 3 || !c.Tagged("raises-exception") || c.Tagged("skip") {
		t.Errorf("cell read as %+v", c)
	}
	if got := c.Outputs[0].Data["text/plain"]; got != "12" {
		t.Errorf("lines of text joined to %q", got)
	}
	if diff := cmp.Diff([]any{"1", "2"}, c.Outputs[0].Data["application/json"]); diff != "" {
		t.Errorf("a JSON value was changed: %s", diff)
	}
	if c.Outputs[1].Text != "a\nb" {
		t.Errorf("stream read as %q", c.Outputs[1].Text)
	}
	if _, ok := c.Metadata["trusted"]; ok {
		t.Error("the mark of trust of one copy was kept")
	}
}

func TestUnknownKeysAreKept(t *testing.T) {
	nb := mustRead(t, `{"nbformat":4,"nbformat_minor":7,"later":1,"metadata":{"x":{"y":[1]}},"cells":[
		{"cell_type":"markdown","id":"a","metadata":{"z":1},"source":"","mood":"calm"},
		{"cell_type":"code","id":"b","metadata":{},"source":"","outputs":[{"output_type":"stream","name":"stdout","text":"","speed":2}]}]}`)
	got := string(mustWrite(t, nb))
	for _, want := range []string{`"later": 1`, `"mood": "calm"`, `"speed": 2`, `"nbformat_minor": 7`, `"z": 1`} {
		if !strings.Contains(got, want) {
			t.Errorf("%s was lost:\n%s", want, got)
		}
	}
}

func TestOlderFormatsBecomeValid(t *testing.T) {
	for _, minor := range []string{"0", "1", "2", "3", "4"} {
		text := `{"nbformat":4,"nbformat_minor":` + minor + `,"metadata":{"orig_nbformat":3},"cells":[
			{"cell_type":"markdown","metadata":{},"source":"# A"},
			{"cell_type":"code","metadata":{},"source":"1","execution_count":null,"outputs":[]},
			{"cell_type":"code","metadata":{},"source":"1","execution_count":null,"outputs":[]},
			{"cell_type":"raw","metadata":{},"source":[]}]}`
		got := mustWrite(t, mustRead(t, text))
		validate(t, got)
		again := mustWrite(t, mustRead(t, text))
		if !bytes.Equal(got, again) {
			t.Errorf("format 4.%s: the same file was given different identities", minor)
		}
	}
}

func TestIdentitiesAreUniqueAndValid(t *testing.T) {
	cell := func(id string) string {
		return `{"cell_type":"raw","id":"` + id + `","metadata":{},"source":"same"}`
	}
	nb := mustRead(t, `{"nbformat":4,"nbformat_minor":5,"metadata":{},"cells":[`+
		strings.Join([]string{cell("a"), cell("a"), cell("not valid"), cell(""), cell(strings.Repeat("x", 65))}, ",")+`]}`)
	seen := map[string]bool{}
	for _, c := range nb.Cells {
		if seen[c.ID] || !validID.MatchString(c.ID) {
			t.Errorf("identity %q is taken or not valid", c.ID)
		}
		seen[c.ID] = true
	}
	if nb.Cells[0].ID != "a" {
		t.Errorf("the first cell lost its identity to %q", nb.Cells[0].ID)
	}
}

func TestReadErrors(t *testing.T) {
	head := `{"nbformat":4,"nbformat_minor":5,"metadata":{},"cells":[` + "\n"
	tests := []struct{ name, text, want string }{
		{"nothing", " \n", "the file is empty"},
		{"cut off", "{\n \"cells\": [", "line 2, column 12: the file ends in the middle of a value"},
		{"not JSON", "{\n 'cells': []}", "line 2, column 2: not JSON"},
		{"not a number", `{"cells": NaN}`, "line 1, column 11: not JSON"},
		{"more text", "{}\n x", "line 2, column 2: text after the end"},
		{"not UTF-8", "{\"µ\": \"\xff\"}", "line 1, column 8: not UTF-8"},
		{"a list", "[]", "line 1, column 1: expected an object { … }, found a list"},
		{"another JSON file", "{}", "this is JSON, but not a notebook"},
		{"format 3", `{"nbformat": 3, "nbformat_minor": 0, "worksheets": []}`, "line 1, column 14: nbformat: notebook format 3: cobber reads format 4"},
		{"no cells", `{"nbformat": 4, "nbformat_minor": 5}`, `no "cells"`},
		{"cells not a list", `{"nbformat":4,"nbformat_minor":5,"cells":{}}`, "line 1, column 42: cells: expected a list [ … ], found an object"},
		{"kind of cell", head + `{"cell_type":"heading","source":""}]}`, `line 2, column 14: cells[0].cell_type: unknown kind of cell "heading"`},
		{"no source", head + `{"cell_type":"raw"}]}`, `line 2, column 1: cells[0]: no "source"`},
		{"source", head + `{"cell_type":"raw","source":["µ",7]}]}`, "line 2, column 34: cells[0].source[1]: expected text, found the number 7"},
		{"count", head + `{"cell_type":"code","source":"","execution_count":1.5}]}`, "cells[0].execution_count: expected a whole number, found the number 1.5"},
		{"output", head + `{"cell_type":"code","source":"","outputs":[{"output_type":"pyout"}]}]}`, `cells[0].outputs[0].output_type: unknown kind of output "pyout"`},
		{"bundle", head + `{"cell_type":"code","source":"","outputs":[{"output_type":"display_data","data":{"text/plain":7}}]}]}`, `cells[0].outputs[0].data["text/plain"]: expected text`},
		{"metadata", head + `{"cell_type":"raw","source":"","metadata":null}]}`, "cells[0].metadata: expected an object { … }, found nothing"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := Read([]byte(test.text))
			if err == nil {
				t.Fatal("read without an error")
			}
			if !strings.Contains(err.Error(), test.want) {
				t.Errorf("error %q\nshould contain %q", err, test.want)
			}
		})
	}
}

func TestWriteRefusesWhatJSONCannotSay(t *testing.T) {
	infinite := 1e300
	infinite *= infinite
	nb := &Notebook{Cells: []Cell{{Kind: Code, Outputs: []Output{{Kind: Display, Data: map[string]any{"application/json": infinite}}}}}}
	if _, err := Write(nb); err == nil {
		t.Error("a number that is not finite was written")
	}
}

// Whatever Read accepts, Write writes as JSON that reads as the same notebook.
func FuzzRead(f *testing.F) {
	jupyter, err := os.ReadFile("testdata/jupyter.ipynb")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(jupyter)
	f.Add([]byte(`{"nbformat":4,"nbformat_minor":2,"cells":[{"cell_type":"raw","source":["\u2028"],"x":1e5}]}`))
	f.Add([]byte(`{"nbformat":4,"cells":[{"cell_type":"code","source":"","outputs":[{"output_type":"stream"}]}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		nb, err := Read(data)
		if err != nil {
			if err.Error() == "" {
				t.Error("an error without a text")
			}
			return
		}
		once, err := Write(nb)
		if err != nil {
			t.Fatal(err)
		}
		if !json.Valid(once) {
			t.Fatalf("not JSON:\n%s", once)
		}
		again, err := Read(once)
		if err != nil {
			t.Fatalf("cannot read what was written: %v\n%s", err, once)
		}
		twice, err := Write(again)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(once, twice) {
			t.Errorf("the second writing differs from the first:\n%s", cmp.Diff(string(once), string(twice)))
		}
	})
}
