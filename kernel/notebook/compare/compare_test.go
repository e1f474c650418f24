package compare

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/png"
	"strings"
	"testing"

	"cobber/kernel/notebook"
)

func shown(data map[string]any) notebook.Output {
	return notebook.Output{Kind: notebook.Result, Data: data}
}

func printed(text string) notebook.Output {
	return notebook.Output{Kind: notebook.Stream, Name: "stdout", Text: text}
}

func of(outputs ...notebook.Output) *notebook.Notebook {
	return &notebook.Notebook{Cells: []notebook.Cell{{Kind: notebook.Code, Source: "x", Count: 1, Outputs: outputs}}}
}

func TestNotebooks(t *testing.T) {
	text := func(s string) notebook.Output { return shown(map[string]any{"text/plain": s}) }
	tests := []struct {
		name      string
		old, new  []notebook.Output
		tolerance float64
		want      string // part of the difference; empty for none
	}{
		{"same", []notebook.Output{text("3.094 t/h")}, []notebook.Output{text("3.094 t/h")}, 0, ""},
		{"within the tolerance", []notebook.Output{text("3.0940 t/h")}, []notebook.Output{text("3.0941 t/h")}, 1e-4, ""},
		{"outside", []notebook.Output{text("3.0940 t/h")}, []notebook.Output{text("3.0960 t/h")}, 1e-4, "0.065 % apart"},
		{"another unit", []notebook.Output{text("3.094 t/h")}, []notebook.Output{text("3.094 kg/h")}, 1, "kg/h"},
		{"zeros at the end", []notebook.Output{text("3.10")}, []notebook.Output{text("3.1")}, 0, ""},
		{"sign", []notebook.Output{text("−3")}, []notebook.Output{text("3")}, 0.5, "apart"},
		{"zero and a small number", []notebook.Output{text("0")}, []notebook.Output{text("1e-17")}, 1e-6, "apart"},
		{"width of a table", []notebook.Output{text("a   b\n─────\n 9  1")}, []notebook.Output{text("a  b\n────\n9  1.000001")}, 1e-5, ""},
		{"a line more", []notebook.Output{text("a")}, []notebook.Output{text("a\nb")}, 0, "a line is new: “b”"},
		{"a line less", []notebook.Output{text("a\nb")}, []notebook.Output{text("a")}, 0, "a line is gone: “b”"},
		{"an output more", nil, []notebook.Output{text("a")}, 0, "nothing was saved, and now there is “a”"},
		{"an output less", []notebook.Output{text("a")}, nil, 0, "“a” was saved, and now there is nothing"},
		{"printed in pieces", []notebook.Output{printed("a\n"), printed("b\n")}, []notebook.Output{printed("a\nb\n")}, 0, ""},
		{"printed and shown", []notebook.Output{printed("a")}, []notebook.Output{text("a")}, 0, "was saved"},
		{"another error", []notebook.Output{{Kind: notebook.Failure, ErrorName: "panic", ErrorValue: "a"}},
			[]notebook.Output{{Kind: notebook.Failure, ErrorName: "panic", ErrorValue: "b"}}, 0, "“a” was saved"},
		{"a new form", []notebook.Output{text("a")}, []notebook.Output{shown(map[string]any{"text/plain": "a", "text/html": "<b>a</b>"})}, 0, ""},
		{"a form is gone", []notebook.Output{shown(map[string]any{"text/plain": "a", "text/html": "<b>a</b>"})}, []notebook.Output{text("a")}, 0, "text/html: this form"},
		{"words in HTML", []notebook.Output{shown(map[string]any{"text/html": "<td>1</td><td>coarse</td>"})},
			[]notebook.Output{shown(map[string]any{"text/html": "<td>1</td><td>fine</td>"})}, 0, "coarse"},
		{"markup of HTML", []notebook.Output{shown(map[string]any{"text/html": "<td>1</td>"})},
			[]notebook.Output{shown(map[string]any{"text/html": "<th>1</th>"})}, 0, "the markup differs"},
		{"a curve moves", []notebook.Output{shown(map[string]any{"image/svg+xml": `<path d="M1 2L3.5 4"/>`})},
			[]notebook.Output{shown(map[string]any{"image/svg+xml": `<path d="M1 2L3.9 4"/>`})}, 1e-6, "the drawing differs"},
		{"a curve moves by a hair", []notebook.Output{shown(map[string]any{"image/svg+xml": `<path d="M1 2L3.500000 4"/>`})},
			[]notebook.Output{shown(map[string]any{"image/svg+xml": `<path d="M1 2L3.500001 4"/>`})}, 1e-5, ""},
		{"a name made of the content", []notebook.Output{shown(map[string]any{"image/svg+xml": `<svg id="figure-fc3cb838b3bc"><path d="M3.500000 4"/>`})},
			[]notebook.Output{shown(map[string]any{"image/svg+xml": `<svg id="figure-457786bb51a9"><path d="M3.500001 4"/>`})}, 1e-5, ""},
		{"JSON", []notebook.Output{shown(map[string]any{"application/json": map[string]any{"a": []any{1.0, 2.0}}})},
			[]notebook.Output{shown(map[string]any{"application/json": map[string]any{"a": []any{1.0, 2.5}}})}, 0, "a[1]: "},
		{"a control", []notebook.Output{shown(map[string]any{"application/vnd.jupyter.widget-view+json": map[string]any{"model_id": "1"}})},
			[]notebook.Output{shown(map[string]any{"application/vnd.jupyter.widget-view+json": map[string]any{"model_id": "2"}})}, 0, ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			list := Notebooks(of(test.old...), of(test.new...), Options{Tolerance: test.tolerance})
			if test.want == "" && len(list) > 0 {
				t.Errorf("a difference where there is none: %v", list)
			}
			if test.want != "" && (len(list) != 1 || !strings.Contains(list[0].String(), test.want)) {
				t.Errorf("differences %v, want one with %q", list, test.want)
			}
		})
	}
}

// pictureOf is a small picture, compressed as asked.
func pictureOf(t *testing.T, level png.CompressionLevel, dark int) string {
	t.Helper()
	picture := image.NewGray(image.Rect(0, 0, 10, 10))
	for i := range dark {
		picture.SetGray(i, 3, color.Gray{Y: 200})
	}
	var out bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: level}).Encode(&out, picture); err != nil {
		t.Fatal(err)
	}
	return base64.StdEncoding.EncodeToString(out.Bytes())
}

func TestBitmapsAreComparedByPixels(t *testing.T) {
	one, other := pictureOf(t, png.BestCompression, 4), pictureOf(t, png.NoCompression, 4)
	if one == other {
		t.Fatal("the two pictures have the same bytes: the test shows nothing")
	}
	picture := func(content string) notebook.Output { return shown(map[string]any{"image/png": content}) }
	if list := Notebooks(of(picture(one)), of(picture(other)), Options{}); len(list) > 0 {
		t.Errorf("the same pixels differ: %v", list)
	}
	list := Notebooks(of(picture(one)), of(picture(pictureOf(t, png.BestCompression, 6))), Options{})
	if len(list) != 1 || !strings.Contains(list[0].Text, "2 of 100 pixels differ") {
		t.Errorf("differences %v", list)
	}
	list = Notebooks(of(picture(one)), of(picture("AAAA")), Options{})
	if len(list) != 1 || !strings.Contains(list[0].Text, "cannot be read") {
		t.Errorf("differences %v", list)
	}
}

func TestCellsThatVaryAreNotCompared(t *testing.T) {
	old, new := of(printed("12:00")), of(printed("12:01"))
	for _, nb := range []*notebook.Notebook{old, new} {
		nb.Cells[0].Metadata = map[string]any{"tags": []any{Varies}}
	}
	if list := Notebooks(old, new, Options{}); len(list) > 0 {
		t.Errorf("differences %v", list)
	}
}

func TestOutOfOrder(t *testing.T) {
	nb := &notebook.Notebook{Cells: []notebook.Cell{
		{Kind: notebook.Code, Source: "a", Count: 1}, {Kind: notebook.Markdown, Source: "b"}, {Kind: notebook.Code, Source: " "}, {Kind: notebook.Code, Source: "c", Count: 2},
	}}
	if _, _, found := OutOfOrder(nb); found {
		t.Error("a clean run is called out of order")
	}
	nb.Cells[3].Count = 7
	if cell, count, found := OutOfOrder(nb); !found || cell != 4 || count != 7 {
		t.Errorf("cell %d with count %d, %v", cell, count, found)
	}
	if HasOutputs(nb) || !HasOutputs(of(printed("a"))) {
		t.Error("HasOutputs is wrong")
	}
}
