package notebook

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// An encoder writes JSON as Jupyter lays it out in notebook files: keys sorted,
// indented by one space, only what must be escaped escaped. encoding/json
// escapes more, and so would change lines of files that Jupyter wrote.
type encoder struct{ bytes.Buffer }

func (e *encoder) value(value any, depth int) error {
	switch value := value.(type) {
	case nil:
		e.WriteString("null")
	case bool:
		fmt.Fprint(e, value)
	case int:
		fmt.Fprint(e, value)
	case json.Number:
		e.WriteString(value.String())
	case string:
		e.text(value)
	case []any:
		return e.list(value, depth)
	case map[string]any:
		return e.object(value, depth)
	default:
		return e.other(value, depth)
	}
	return nil
}

func (e *encoder) list(list []any, depth int) error {
	if len(list) == 0 {
		e.WriteString("[]")
		return nil
	}
	e.WriteByte('[')
	for i, value := range list {
		e.nextLine(i, depth+1)
		if err := e.value(value, depth+1); err != nil {
			return err
		}
	}
	e.nextLine(0, depth)
	e.WriteByte(']')
	return nil
}

func (e *encoder) object(object map[string]any, depth int) error {
	if len(object) == 0 {
		e.WriteString("{}")
		return nil
	}
	e.WriteByte('{')
	for i, key := range slices.Sorted(maps.Keys(object)) {
		e.nextLine(i, depth+1)
		e.text(key)
		e.WriteString(": ")
		if err := e.value(object[key], depth+1); err != nil {
			return fmt.Errorf("%s: %w", key, err)
		}
	}
	e.nextLine(0, depth)
	e.WriteByte('}')
	return nil
}

// nextLine begins the line of the index-th value of a list or object.
func (e *encoder) nextLine(index, depth int) {
	if index > 0 {
		e.WriteByte(',')
	}
	e.WriteByte('\n')
	e.WriteString(strings.Repeat(" ", depth))
}

// other writes a value of another type by way of its JSON.
func (e *encoder) other(value any, depth int) error {
	text, err := json.Marshal(value)
	if err != nil {
		return err
	}
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.UseNumber()
	var plain any
	if err := decoder.Decode(&plain); err != nil {
		return err
	}
	return e.value(plain, depth)
}

func (e *encoder) text(text string) {
	e.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			e.WriteByte('\\')
			e.WriteRune(r)
		case r == '\n':
			e.WriteString(`\n`)
		case r == '\r':
			e.WriteString(`\r`)
		case r == '\t':
			e.WriteString(`\t`)
		case r == '\b':
			e.WriteString(`\b`)
		case r == '\f':
			e.WriteString(`\f`)
		case r < ' ':
			fmt.Fprintf(e, `\u%04x`, r)
		default:
			e.WriteRune(r)
		}
	}
	e.WriteByte('"')
}
