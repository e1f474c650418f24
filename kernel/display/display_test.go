package display

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	"image/png"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"
)

type point struct {
	X, Y  float64
	label string
}

type celsius float64

func (c celsius) String() string { return fmt.Sprintf("%.1f °C", float64(c)) }

type node struct {
	Value int
	Next  *node
}

type fragile struct{ name string }

func (f *fragile) String() string { return f.name }

func TestText(t *testing.T) {
	long := make([]int, 1000)
	for i := range long {
		long[i] = i
	}
	ring := &node{Value: 1}
	ring.Next = ring
	var nilNode *node
	var nilFragile *fragile
	tests := []struct {
		name  string
		value any
		want  string
	}{
		{"integer", 42, "42"},
		{"float that is whole", 1e6, "1000000"},
		{"float", 36.5, "36.5"},
		{"float32 keeps its digits", float32(0.1), "0.1"},
		{"large float", 6.02214076e23, "6.02214076e+23"},
		{"small float", 1.5e-9, "1.5e-09"},
		{"zero", 0.0, "0"},
		{"no number", math.NaN(), "NaN"},
		{"infinity", math.Inf(-1), "-Inf"},
		{"complex", complex(1, -2), "(1-2i)"},
		{"truth", true, "true"},
		{"string", "1 µm\n\"x\"", `"1 µm\n\"x\""`},
		{"error", errors.New("feed is empty"), "feed is empty"},
		{"stringer", celsius(21), "21.0 °C"},
		{"stringers in a slice", []celsius{1, 2}, "[1.0 °C 2.0 °C]"},
		{"duration", 1500 * time.Millisecond, "1.5s"},
		{"slice of strings", []string{"a b", "c"}, `["a b" "c"]`},
		{"slice of any", []any{1, "x", nil, 2.5}, `[1 "x" <nil> 2.5]`},
		{"nil slice", []int(nil), "[]"},
		{"array", [2]bool{true, false}, "[true false]"},
		{"map by key", map[int]string{10: "ten", 9: "nine"}, `map[9:"nine" 10:"ten"]`},
		{"map of mixed keys", map[any]int{"b": 1, "a": 2}, `map["a":2 "b":1]`},
		{"struct", point{1, 2.5, "p"}, `{X:1 Y:2.5 label:"p"}`},
		{"pointer to struct", &point{X: 1}, `&{X:1 Y:0 label:""}`},
		{"nil pointer", nilNode, "<nil>"},
		{"nil pointer with a String that needs one", nilFragile, "<nil>"},
		{"function", strings.ToUpper, "func(string) string"},
		{"nil function", (func())(nil), "func()(nil)"},
		{"channel", make(chan int), "chan int"},
		{"nil", nil, "<nil>"},
		{"bad encoding in an error", errors.New("\xff"), "\ufffd"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := Text(test.value); got != test.want {
				t.Errorf("got %s, want %s", got, test.want)
			}
		})
	}
	if got := Text(ring); !strings.HasPrefix(got, "&{Value:1 Next:0x") {
		t.Errorf("a ring of pointers: %s", got)
	}
	if got := Text(long); !strings.HasPrefix(got, "[0 1 2 ") || !strings.HasSuffix(got, " 88 89 … 990 991 992 993 994 995 996 997 998 999] (1000 elements)") {
		t.Errorf("a long slice: %s", got)
	}
	for name, value := range map[string]any{
		"string": strings.Repeat("µ", maxBytes), "error": errors.New(strings.Repeat("µ", maxBytes)),
	} {
		if got := Text(value); len(got) > maxBytes+100 || !strings.HasSuffix(got, "… (200000 bytes in all)") {
			t.Errorf("a long %s gives %d bytes, ending %q", name, len(got), got[len(got)-40:])
		}
	}
}

func TestTextOfNestedValuesEnds(t *testing.T) {
	deep := []any{1}
	for range 50 {
		deep = []any{deep, deep}
	}
	if got := Text(deep); len(got) > 2*maxBytes {
		t.Errorf("%d bytes", len(got))
	}
}

type picture struct{ svg, html string }

func (p picture) SVG() []byte            { return []byte(p.svg) }
func (p picture) PNG() ([]byte, error)   { return []byte{1, 2, 3}, nil }
func (p picture) HTML() string           { return p.html }
func (p picture) String() string         { return "a picture" }
func (p picture) Markdown(width int) int { return width }

type formula string

func (f formula) LaTeX() string { return string(f) }

type faulty struct{}

func (faulty) HTML() string             { panic("no rows") }
func (faulty) SVG() (string, error)     { return "", errors.New("no axes") }
func (faulty) Markdown() (string, bool) { return "", true }
func (faulty) String() string           { return "faulty" }

// boxed stands for a value of a type declared in a cell.
type boxed struct{ methods map[string]any }

func (b boxed) SessionMethod(name string) (reflect.Value, bool) {
	method, ok := b.methods[name]
	return reflect.ValueOf(method), ok
}

func (b boxed) Format(state fmt.State, verb rune) { fmt.Fprint(state, "boxed") }

func TestBundle(t *testing.T) {
	tests := []struct {
		name  string
		value any
		want  map[string]any
	}{
		{"nothing", nil, nil},
		{"number", 3, map[string]any{textPlain: "3"}},
		{"by methods", picture{"<svg/>", "<b>µ</b>"}, map[string]any{
			textPlain: "a picture", textHTML: "<b>µ</b>", imageSVG: "<svg/>", imagePNG: "AQID"}},
		{"an empty form is left out", picture{"<svg/>", ""}, map[string]any{
			textPlain: "a picture", imageSVG: "<svg/>", imagePNG: "AQID"}},
		{"bare mathematics", formula(`\frac{a}{b}`), map[string]any{textPlain: `"\\frac{a}{b}"`, textLaTeX: `$\frac{a}{b}$`}},
		{"mathematics with dollars", formula(`$$a$$`), map[string]any{textPlain: `"$$a$$"`, textLaTeX: `$$a$$`}},
		{"an environment", formula(`\begin{tabular}`), map[string]any{textPlain: `"\\begin{tabular}"`, textLaTeX: `\begin{tabular}`}},
		{"methods that fail", faulty{}, map[string]any{
			textPlain: "faulty\n(method HTML panicked: no rows)\n(method SVG failed: no axes)"}},
		{"nil pointer to a type with methods", (*picture)(nil), map[string]any{textPlain: "<nil>"}},
		{"type of a cell", boxed{map[string]any{"HTML": func() string { return "<i>1</i>" }, "String": func() string { return "one" }}},
			map[string]any{textPlain: "one", textHTML: "<i>1</i>"}},
		{"type of a cell without methods", boxed{}, map[string]any{textPlain: "boxed"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			data, metadata := Bundle(test.value)
			if !reflect.DeepEqual(data, test.want) {
				t.Errorf("got %v, want %v", data, test.want)
			}
			if data != nil && metadata == nil {
				t.Error("metadata must be an object")
			}
		})
	}
}

func TestBundleOfImage(t *testing.T) {
	data, _ := Bundle(image.NewGray(image.Rect(0, 0, 3, 2)))
	if data[textPlain] != "*image.Gray of 3 × 2 pixels" {
		t.Errorf("text is %v", data[textPlain])
	}
	raw, err := base64.StdEncoding.DecodeString(data[imagePNG].(string))
	if err != nil {
		t.Fatal(err)
	}
	back, err := png.Decode(bytes.NewReader(raw))
	if err != nil || back.Bounds().Dx() != 3 {
		t.Errorf("the PNG reads back as %v, %v", back, err)
	}
	if data, _ := Bundle((*image.Gray)(nil)); data[textPlain] != "<nil>" {
		t.Errorf("a nil picture: %v", data)
	}
}

// dense is a PNG picture of 4 by 2 pixels that says it has 192 dots an inch.
type dense struct{}

func (dense) PNG() []byte {
	var out bytes.Buffer
	png.Encode(&out, image.NewGray(image.Rect(0, 0, 4, 2)))
	head := out.Bytes()[:33]
	chunk := []byte("\x00\x00\x00\x09pHYs\x00\x00\x1d\x87\x00\x00\x1d\x87\x01") // 7559 a metre
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	return append(append(head[:33:33], chunk...), out.Bytes()[33:]...)
}

func TestPictureIsShownAtItsSize(t *testing.T) {
	_, metadata := Bundle(dense{})
	want := map[string]any{imagePNG: map[string]any{"width": 2, "height": 1}}
	if !reflect.DeepEqual(metadata, want) {
		t.Errorf("metadata %v, want %v", metadata, want)
	}
	for name, text := range map[string]string{"no picture": "abc", "cut short": string(dense{}.PNG()[:40])} {
		if size := pictureSize(text); size != nil {
			t.Errorf("%s has size %v", name, size)
		}
	}
	if _, metadata := Bundle(image.NewGray(image.Rect(0, 0, 3, 2))); len(metadata) != 0 {
		t.Errorf("a picture that says nothing has metadata %v", metadata)
	}
}

func TestBundles(t *testing.T) {
	tests := []struct {
		name   string
		values []any
		want   map[string]any
	}{
		{"none", nil, nil},
		{"value and no error", []any{5, nil}, map[string]any{textPlain: "5"}},
		{"only no error", []any{nil}, nil},
		{"two", []any{2, 0.5}, map[string]any{textPlain: "2, 0.5"}},
		{"lines", []any{errors.New("a\nb"), 2}, map[string]any{textPlain: "a\nb\n2"}},
		{"rich alone", []any{formula("$x$"), nil}, map[string]any{textPlain: `"$x$"`, textLaTeX: "$x$"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if data, _ := Bundles(test.values...); !reflect.DeepEqual(data, test.want) {
				t.Errorf("got %v, want %v", data, test.want)
			}
		})
	}
}

func BenchmarkTextOfLongSlice(b *testing.B) {
	long := make([]float64, 1_000_000)
	for b.Loop() {
		Text(long)
	}
}
