package notebook

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Read returns the notebook that the bytes of a file hold. An error is a
// *FormatError with the place in the file.
func Read(data []byte) (*Notebook, error) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	tree, err := decode(data)
	if err != nil {
		return nil, err
	}
	r := &reader{data: data}
	nb := r.notebook(tree)
	if r.err != nil {
		return nil, r.err
	}
	nameCells(nb.Cells)
	return nb, nil
}

// decode returns the JSON value of a whole file, numbers as they are written.
func decode(data []byte) (any, error) {
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, &FormatError{Problem: "the file is empty: a notebook has at least {\"cells\": [], \"metadata\": {}, \"nbformat\": 4, \"nbformat_minor\": 5}"}
	}
	if !utf8.Valid(data) {
		return nil, placed(data, firstInvalid(data), "not UTF-8 text: a notebook file is JSON in UTF-8")
	}
	decoder := json.NewDecoder(bytes.NewReader(data))
	decoder.UseNumber()
	var tree any
	if err := decoder.Decode(&tree); err != nil {
		return nil, syntaxError(data, err)
	}
	end := int(decoder.InputOffset())
	if rest := bytes.TrimSpace(data[end:]); len(rest) > 0 {
		return nil, placed(data, len(data)-len(bytes.TrimLeft(data[end:], " \t\r\n")), "text after the end of the notebook")
	}
	return tree, nil
}

func syntaxError(data []byte, err error) error {
	var syntax *json.SyntaxError
	switch {
	case errors.As(err, &syntax):
		return placed(data, int(syntax.Offset)-1, "not JSON: "+syntax.Error())
	case errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, io.EOF):
		return placed(data, len(data), "the file ends in the middle of a value: it may have been cut off while it was saved or copied")
	}
	return placed(data, 0, "not JSON: "+err.Error())
}

func placed(data []byte, offset int, problem string) *FormatError {
	e := &FormatError{Problem: problem}
	e.Line, e.Column = position(data, offset)
	return e
}

func firstInvalid(data []byte) int {
	for i := 0; i < len(data); {
		r, size := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return len(data)
}

// A reader turns the JSON tree into a Notebook; it keeps the first error.
type reader struct {
	data []byte
	err  error
}

func (r *reader) fail(p place, format string, args ...any) {
	if r.err == nil {
		r.err = p.at(r.data, fmt.Sprintf(format, args...))
	}
}

func (r *reader) notebook(tree any) *Notebook {
	object := r.object(tree, nil)
	if r.err != nil {
		return nil
	}
	nb := &Notebook{Minor: r.version(object)}
	if r.err != nil {
		return nil
	}
	nb.Metadata = r.optionalObject(object, "metadata", nil)
	list, ok := object["cells"]
	if !ok {
		r.fail(nil, "no \"cells\": a notebook has a list of cells")
	}
	for i, value := range r.list(list, place{"cells"}) {
		nb.Cells = append(nb.Cells, r.cell(value, place{"cells", i}))
	}
	nb.Unknown = unknown(object, "cells", "metadata", "nbformat", "nbformat_minor")
	for _, name := range []string{"orig_nbformat", "orig_nbformat_minor", "signature"} {
		delete(nb.Metadata, name) // about one copy of the file, never to be saved
	}
	return nb
}

func (r *reader) version(object map[string]any) (minor int) {
	if _, ok := object["nbformat"]; !ok {
		r.fail(nil, "no \"nbformat\": this is JSON, but not a notebook")
		return 0
	}
	major := r.count(object, "nbformat", nil)
	if r.err == nil && major != 4 {
		r.fail(place{"nbformat"}, "notebook format %d: cobber reads format 4 (open the notebook in Jupyter and save it to convert it)", major)
	}
	return r.count(object, "nbformat_minor", nil)
}

func (r *reader) cell(value any, p place) Cell {
	object := r.object(value, p)
	if r.err != nil {
		return Cell{}
	}
	c := Cell{
		ID:          r.optionalText(object, "id", p),
		Kind:        Kind(r.text(object, "cell_type", p)),
		Source:      r.text(object, "source", p),
		Metadata:    r.optionalObject(object, "metadata", p),
		Attachments: r.attachments(object, p),
	}
	known := []string{"id", "cell_type", "source", "metadata", "attachments"}
	switch c.Kind {
	case Code:
		c.Count = r.count(object, "execution_count", p)
		if outputs, ok := object["outputs"]; ok {
			for i, value := range r.list(outputs, p.with("outputs")) {
				c.Outputs = append(c.Outputs, r.output(value, p.with("outputs").with(i)))
			}
		}
		known = append(known, "execution_count", "outputs")
	case Markdown, Raw:
	default:
		r.fail(p.with("cell_type"), "unknown kind of cell %q: expected \"code\", \"markdown\" or \"raw\"", c.Kind)
	}
	delete(c.Metadata, "trusted") // said by one machine of one copy, never to be saved
	c.Unknown = unknown(object, known...)
	return c
}

func (r *reader) output(value any, p place) Output {
	object := r.object(value, p)
	if r.err != nil {
		return Output{}
	}
	o := Output{Kind: OutputKind(r.text(object, "output_type", p))}
	known := []string{"output_type"}
	switch o.Kind {
	case Stream:
		o.Name, o.Text = r.text(object, "name", p), r.text(object, "text", p)
		known = append(known, "name", "text")
	case Display, Result:
		o.Data = r.bundle(object["data"], p.with("data"))
		o.Metadata = r.optionalObject(object, "metadata", p)
		known = append(known, "data", "metadata")
		if o.Kind == Result {
			o.Count = r.count(object, "execution_count", p)
			known = append(known, "execution_count")
		}
	case Failure:
		o.ErrorName, o.ErrorValue = r.text(object, "ename", p), r.text(object, "evalue", p)
		for i, line := range r.list(object["traceback"], p.with("traceback")) {
			text, ok := line.(string)
			if !ok {
				r.fail(p.with("traceback").with(i), "expected text, found %s", kindOf(line))
			}
			o.Traceback = append(o.Traceback, text)
		}
		known = append(known, "ename", "evalue", "traceback")
	default:
		r.fail(p.with("output_type"), "unknown kind of output %q: expected \"stream\", \"display_data\", \"execute_result\" or \"error\"", o.Kind)
	}
	o.Unknown = unknown(object, known...)
	return o
}

func (r *reader) attachments(object map[string]any, p place) map[string]any {
	if _, ok := object["attachments"]; !ok {
		return nil
	}
	files := r.optionalObject(object, "attachments", p)
	joined := make(map[string]any, len(files))
	for name, bundle := range files {
		joined[name] = r.bundle(bundle, p.with("attachments").with(name))
	}
	return joined
}

// bundle joins the lines of a media bundle; JSON media types hold any value.
func (r *reader) bundle(value any, p place) map[string]any {
	bundle := r.object(value, p)
	joined := make(map[string]any, len(bundle))
	for media, content := range bundle {
		if holdsJSON(media) {
			joined[media] = content
			continue
		}
		joined[media] = r.joined(content, p.with(media))
	}
	return joined
}

// holdsJSON reports whether a media type holds a JSON value rather than text.
func holdsJSON(media string) bool {
	return media == "application/json" ||
		strings.HasPrefix(media, "application/") && strings.HasSuffix(media, "+json")
}

func (r *reader) object(value any, p place) map[string]any {
	object, ok := value.(map[string]any)
	if !ok {
		r.fail(p, "expected an object { … }, found %s", kindOf(value))
	}
	return object
}

func (r *reader) optionalObject(object map[string]any, key string, p place) map[string]any {
	value, ok := object[key]
	if !ok {
		return map[string]any{}
	}
	return r.object(value, p.with(key))
}

func (r *reader) list(value any, p place) []any {
	list, ok := value.([]any)
	if !ok {
		r.fail(p, "expected a list [ … ], found %s", kindOf(value))
	}
	return list
}

func (r *reader) text(object map[string]any, key string, p place) string {
	value, ok := object[key]
	if !ok {
		r.fail(p, "no %q, which the notebook format asks for here", key)
		return ""
	}
	return r.joined(value, p.with(key))
}

func (r *reader) optionalText(object map[string]any, key string, p place) string {
	if _, ok := object[key]; !ok {
		return ""
	}
	return r.text(object, key, p)
}

// joined returns text that may be written as a list of lines.
func (r *reader) joined(value any, p place) string {
	switch value := value.(type) {
	case string:
		return value
	case []any:
		var b strings.Builder
		for i, line := range value {
			text, ok := line.(string)
			if !ok {
				r.fail(p.with(i), "expected text, found %s", kindOf(line))
			}
			b.WriteString(text)
		}
		return b.String()
	}
	r.fail(p, "expected text or a list of lines, found %s", kindOf(value))
	return ""
}

// count returns a whole number; null and nothing are 0.
func (r *reader) count(object map[string]any, key string, p place) int {
	value := object[key]
	if value == nil {
		return 0
	}
	number, _ := value.(json.Number)
	n, err := number.Int64()
	if err != nil || n < 0 || n > 1<<31 {
		r.fail(p.with(key), "expected a whole number, found %s", kindOf(value))
		return 0
	}
	return int(n)
}

func unknown(object map[string]any, known ...string) map[string]any {
	var rest map[string]any
next:
	for key, value := range object {
		for _, name := range known {
			if key == name {
				continue next
			}
		}
		if rest == nil {
			rest = map[string]any{}
		}
		rest[key] = value
	}
	return rest
}

func kindOf(value any) string {
	switch value := value.(type) {
	case nil:
		return "nothing"
	case bool:
		return fmt.Sprint(value)
	case json.Number:
		return "the number " + value.String()
	case string:
		return "text"
	case []any:
		return "a list"
	case map[string]any:
		return "an object"
	}
	return fmt.Sprintf("%T", value)
}
