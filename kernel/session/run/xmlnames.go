package run

import (
	"bytes"
	"encoding/xml"
	"errors"
	"go/types"
	"reflect"
)

// encoding/xml names an element after the type of the value where nothing else does. The plain value
// that it is handed has lost its name, so the element is named here.

// elementName is the name of the element for a value of a type, or "" where the value, or the package,
// finds it by itself.
func elementName(t types.Type) string {
	if e, ok := isPointerTo(t); ok {
		return elementName(e)
	}
	named, ok := types.Unalias(t).(*types.Named)
	if !ok {
		return ""
	}
	if s, ok := named.Underlying().(*types.Struct); ok {
		for i := range s.NumFields() {
			if s.Field(i).Name() == "XMLName" {
				return ""
			}
		}
	}
	return named.Obj().Name()
}

// encodeXML is xml.Encoder.Encode.
func encodeXML(e *xml.Encoder, v any) error {
	b, ok := boxOf(v)
	if !ok {
		return e.Encode(v)
	}
	err := encodePlain(e, unboxed(b, false), b.record().t)
	if unsupported := new(xml.UnsupportedTypeError); errors.As(err, &unsupported) && unsupported.Type == b.record().layout {
		err = errors.New("xml: unsupported type: " + b.record().name)
	}
	if err != nil {
		return err
	}
	return e.Flush()
}

func encodePlain(e *xml.Encoder, v reflect.Value, t types.Type) error {
	if s, ok := t.Underlying().(*types.Slice); ok && v.Type().Elem().Kind() != reflect.Uint8 {
		for i := range v.Len() {
			if err := encodePlain(e, v.Index(i), s.Elem()); err != nil {
				return err
			}
		}
		return nil
	}
	if name := elementName(t); name != "" && v.Kind() != reflect.Map {
		return e.EncodeElement(v.Interface(), xml.StartElement{Name: xml.Name{Local: name}})
	}
	return e.Encode(v.Interface())
}

func marshalXML(v any, prefix, indent string) ([]byte, error) {
	var out bytes.Buffer
	e := xml.NewEncoder(&out)
	if prefix != "" || indent != "" {
		e.Indent(prefix, indent)
	}
	if err := encodeXML(e, v); err != nil {
		return nil, err
	}
	if err := e.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

func init() {
	add(map[string]intrinsic{
		"encoding/xml.Marshal": func(fp pointer, a, r []uintptr) {
			*at[[]byte](fp, r[0]), *at[error](fp, r[1]) = marshalXML(*at[any](fp, a[0]), "", "")
		},
		"encoding/xml.MarshalIndent": func(fp pointer, a, r []uintptr) {
			*at[[]byte](fp, r[0]), *at[error](fp, r[1]) =
				marshalXML(*at[any](fp, a[0]), *at[string](fp, a[1]), *at[string](fp, a[2]))
		},
		"(*encoding/xml.Encoder).Encode": func(fp pointer, a, r []uintptr) {
			*at[error](fp, r[0]) = encodeXML(*at[*xml.Encoder](fp, a[0]), *at[any](fp, a[1]))
		},
	})
}
