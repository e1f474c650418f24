package display

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
)

// Limits of the text of one value. A notebook that holds a million numbers
// opens slowly, and nobody reads them.
const (
	maxElements = 100     // shown of a slice, array or map
	headLength  = 90      // of them from the beginning, the rest from the end
	maxDepth    = 6       // of values within values
	maxBytes    = 100_000 // of the whole text
)

// Text gives a value as text/plain shows it: numbers plain, strings in Go's
// quotes, errors and Stringers by their own text, structs with the names of
// their fields. A long slice is cut in the middle, and its length is said.
func Text(value any) string {
	if value == nil {
		return "<nil>"
	}
	w := &textWriter{}
	w.value(reflect.ValueOf(value), 0)
	text := strings.ToValidUTF8(w.String(), "\ufffd")
	if len(text) > maxBytes {
		text = strings.ToValidUTF8(text[:maxBytes], "") + fmt.Sprintf("… (%d bytes in all)", len(text))
	}
	return text
}

type textWriter struct{ strings.Builder }

func (w *textWriter) full() bool { return w.Len() > 2*maxBytes }

func (w *textWriter) value(v reflect.Value, depth int) {
	if w.full() {
		return
	}
	if v.Kind() == reflect.Interface && !v.IsNil() {
		v = v.Elem()
	}
	if v.CanInterface() {
		if text, ok := ownText(v.Interface()); ok {
			w.WriteString(text)
			return
		}
	}
	switch v.Kind() {
	case reflect.String:
		w.quoted(v.String())
	case reflect.Float32:
		w.WriteString(formatFloat(v.Float(), 32))
	case reflect.Float64:
		w.WriteString(formatFloat(v.Float(), 64))
	case reflect.Slice, reflect.Array:
		w.sequence(v, depth)
	case reflect.Map:
		w.mapping(v, depth)
	case reflect.Struct:
		w.structure(v, depth)
	case reflect.Pointer:
		w.pointer(v, depth)
	case reflect.Func, reflect.Chan:
		w.opaque(v)
	default:
		fmt.Fprint(w, v)
	}
}

// quoted writes a string in Go's quotes. Of one that is far too long only the
// beginning is looked at.
func (w *textWriter) quoted(text string) {
	if len(text) <= maxBytes {
		w.WriteString(strconv.Quote(text))
		return
	}
	head := strings.ToValidUTF8(text[:maxBytes/2], "")
	fmt.Fprintf(w, "%s… (%d bytes in all)", strconv.Quote(head), len(text))
}

// ownText is the text that the value itself gives.
func ownText(value any) (text string, ok bool) {
	defer func() {
		if problem := recover(); problem != nil {
			text, ok = fmt.Sprintf("(showing a %T panicked: %v)", value, problem), true
			if v := reflect.ValueOf(value); v.Kind() == reflect.Pointer && v.IsNil() {
				text = "<nil>"
			}
		}
	}()
	switch v := value.(type) {
	case error:
		return v.Error(), true
	case fmt.Stringer:
		return v.String(), true
	}
	if _, boxed := value.(sessionValue); boxed {
		for _, name := range []string{"Error", "String"} {
			if method, has := methodOf(value, name); has {
				text, fault := method.call(name)
				return text + fault, true
			}
		}
	}
	if _, formats := value.(fmt.Formatter); formats {
		return fmt.Sprintf("%+v", value), true
	}
	return "", false
}

// formatFloat writes a number without an exponent where a person would.
func formatFloat(x float64, bits int) string {
	if size := math.Abs(x); x == 0 || size >= 1e-4 && size < 1e15 {
		return strconv.FormatFloat(x, 'f', -1, bits)
	}
	return strconv.FormatFloat(x, 'g', -1, bits)
}

func (w *textWriter) sequence(v reflect.Value, depth int) {
	if v.Kind() == reflect.Slice && v.IsNil() {
		w.WriteString("[]")
		return
	}
	if depth >= maxDepth {
		fmt.Fprintf(w, "[… (%d elements)]", v.Len())
		return
	}
	w.WriteByte('[')
	for i := 0; i < v.Len(); i++ {
		if i > 0 {
			w.WriteByte(' ')
		}
		if v.Len() > maxElements && i == headLength {
			w.WriteString("… ")
			i = v.Len() - (maxElements - headLength)
		}
		w.value(v.Index(i), depth+1)
	}
	if v.Len() > maxElements {
		fmt.Fprintf(w, "] (%d elements)", v.Len())
		return
	}
	w.WriteByte(']')
}

func (w *textWriter) structure(v reflect.Value, depth int) {
	if depth >= maxDepth {
		w.WriteString("{…}")
		return
	}
	w.WriteByte('{')
	for i := range v.NumField() {
		if i > 0 {
			w.WriteByte(' ')
		}
		w.WriteString(v.Type().Field(i).Name)
		w.WriteByte(':')
		w.value(v.Field(i), depth+1)
	}
	w.WriteByte('}')
}

// pointer follows a pointer at the outermost level only, as Go's fmt does: so
// that a ring of pointers has an end.
func (w *textWriter) pointer(v reflect.Value, depth int) {
	switch {
	case v.IsNil():
		w.WriteString("<nil>")
	case depth == 0 && isCompound(v.Elem().Kind()):
		w.WriteByte('&')
		w.value(v.Elem(), depth+1)
	default:
		fmt.Fprintf(w, "%#x", v.Pointer())
	}
}

func isCompound(kind reflect.Kind) bool {
	return kind == reflect.Struct || kind == reflect.Slice || kind == reflect.Array || kind == reflect.Map
}

func (w *textWriter) opaque(v reflect.Value) {
	w.WriteString(v.Type().String())
	if v.IsNil() {
		w.WriteString("(nil)")
	}
}
