package symbols

import "reflect"

// Method gives the method name of the type typ of the package at path as a
// function whose first parameter is the receiver: (*strings.Builder).WriteString
// for "strings", "Builder", "WriteString". The receiver is a pointer only if
// the method is not in the method set of the type itself. It is false for
// types whose methods were not thought common; reflection finds those.
func Method(path, typ, name string) (reflect.Value, bool) {
	value := lookupMethod(path, typ+"."+name)
	return value, value.IsValid()
}
