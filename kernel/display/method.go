package display

import (
	"fmt"
	"reflect"
)

// sessionValue is a value of a type declared in a cell. Go's own assertions do
// not see its methods, so it is asked for them by name.
type sessionValue interface {
	SessionMethod(name string) (reflect.Value, bool)
}

var errorType = reflect.TypeFor[error]()

// showing is a method that takes nothing and gives text or bytes, and perhaps
// an error.
type showing struct{ function reflect.Value }

// methodOf finds a method of value that shows it. A method of that name with
// another signature is not one.
func methodOf(value any, name string) (showing, bool) {
	v := reflect.ValueOf(value)
	if v.Kind() == reflect.Pointer && v.IsNil() {
		return showing{}, false // most methods would panic
	}
	function := v.MethodByName(name)
	if !function.IsValid() {
		if boxed, ok := value.(sessionValue); ok {
			function, _ = boxed.SessionMethod(name)
		}
	}
	if !function.IsValid() || function.Kind() != reflect.Func || !shows(function.Type()) {
		return showing{}, false
	}
	return showing{function}, true
}

func shows(signature reflect.Type) bool {
	if signature.NumIn() != 0 || signature.NumOut() < 1 || signature.NumOut() > 2 {
		return false
	}
	if signature.NumOut() == 2 && signature.Out(1) != errorType {
		return false
	}
	out := signature.Out(0)
	return out.Kind() == reflect.String || out.Kind() == reflect.Slice && out.Elem().Kind() == reflect.Uint8
}

// call gives what the method makes, or says what went wrong.
func (s showing) call(name string) (content, fault string) {
	defer func() {
		if problem := recover(); problem != nil {
			content, fault = "", fmt.Sprintf("(method %s panicked: %v)", name, problem)
		}
	}()
	out := s.function.Call(nil)
	if len(out) == 2 && !out[1].IsNil() {
		return "", fmt.Sprintf("(method %s failed: %v)", name, out[1].Interface())
	}
	if out[0].Kind() == reflect.String {
		return out[0].String(), ""
	}
	return string(out[0].Bytes()), ""
}
