package notebook

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A FormatError says what is wrong with a notebook file, and where.
type FormatError struct {
	Line, Column int    // of the file, from 1; column in characters; 0 when there is no place
	Path         string // of the value within the file, such as cells[3].source; may be empty
	Problem      string // what is wrong and what would be right
}

func (e *FormatError) Error() string {
	var b strings.Builder
	if e.Line > 0 {
		fmt.Fprintf(&b, "line %d, column %d: ", e.Line, e.Column)
	}
	if e.Path != "" {
		b.WriteString(e.Path + ": ")
	}
	b.WriteString(e.Problem)
	return b.String()
}

// place is the way to a value: names of keys and indexes of lists.
type place []any

// with returns the place one step further; the parent may be extended again.
func (p place) with(step any) place {
	return append(p[:len(p):len(p)], step)
}

func (p place) String() string {
	var b strings.Builder
	for _, step := range p {
		switch step := step.(type) {
		case int:
			fmt.Fprintf(&b, "[%d]", step)
		case string:
			if strings.ContainsAny(step, ".[]/ ") {
				b.WriteString("[" + strconv.Quote(step) + "]")
				continue
			}
			if b.Len() > 0 {
				b.WriteByte('.')
			}
			b.WriteString(step)
		}
	}
	return b.String()
}

// at makes an error about the value at p of the file.
func (p place) at(data []byte, problem string) *FormatError {
	e := &FormatError{Path: p.String(), Problem: problem}
	e.Line, e.Column = position(data, locate(data, p))
	return e
}

// position turns an offset into line and column, counted in characters.
func position(data []byte, offset int) (line, column int) {
	offset = min(max(offset, 0), len(data))
	before := data[:offset]
	start := bytes.LastIndexByte(before, '\n') + 1
	return bytes.Count(before, []byte{'\n'}) + 1, utf8.RuneCount(before[start:]) + 1
}

// locate returns the offset of the value at p, or of the innermost value on the
// way that exists. The file is well-formed JSON: it has been decoded before.
func locate(data []byte, p place) int {
	decoder := json.NewDecoder(bytes.NewReader(data))
	offset := valueOffset(data, 0)
	for _, step := range p {
		if _, err := decoder.Token(); err != nil { // the opening bracket
			return offset
		}
		found := false
		for i := 0; decoder.More(); i++ {
			here := any(i)
			if _, list := step.(int); !list {
				key, err := decoder.Token()
				if err != nil {
					return offset
				}
				here = key
			}
			if here == step {
				offset = valueOffset(data, int(decoder.InputOffset()))
				found = true
				break
			}
			var skipped json.RawMessage
			if decoder.Decode(&skipped) != nil {
				return offset
			}
		}
		if !found {
			return offset
		}
	}
	return offset
}

// valueOffset skips what stands between a value and the one before it.
func valueOffset(data []byte, from int) int {
	for from < len(data) && strings.IndexByte(" \t\r\n,:", data[from]) >= 0 {
		from++
	}
	return from
}
