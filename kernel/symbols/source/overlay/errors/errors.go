// Package errors holds the generic functions of Go's package errors, for the
// executor.
package errors

// AsType is the first error of type E in the tree of err, and whether there is
// one. An error may also say that it is an E by a method As(any) bool.
func AsType[E error](err error) (E, bool) {
	if err == nil {
		var none E
		return none, false
	}
	if found, ok := err.(E); ok {
		return found, true
	}
	if as, ok := err.(interface{ As(any) bool }); ok {
		var found E
		if as.As(&found) {
			return found, true
		}
	}
	switch wrapping := err.(type) {
	case interface{ Unwrap() error }:
		return AsType[E](wrapping.Unwrap())
	case interface{ Unwrap() []error }:
		for _, wrapped := range wrapping.Unwrap() {
			if found, ok := AsType[E](wrapped); ok {
				return found, true
			}
		}
	}
	var none E
	return none, false
}
