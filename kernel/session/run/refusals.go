package run

import "go/token"

// forbidden are compiled functions that no cell may call: with them a cell could end the process, or
// reach memory past its types. Each has what to write instead.
var forbidden = map[string]struct{ reason, instead string }{
	"runtime.SetFinalizer":        {"a finalizer cannot be set in a cell", "use defer, or close what is open by name"},
	"runtime/debug.SetMaxStack":   {"the stack of cells has a limit of its own", "leave the call out"},
	"runtime/debug.SetMaxThreads": {"a limit on threads could end the session", "leave the call out"},
	"testing.Main":                {"testing.Main would end the session", "call the function, and look at what it returns"},
	"testing.MainStart":           {"testing.MainStart would end the session", "call the function, and look at what it returns"},
	"reflect.NewAt":               {"reflect.NewAt reaches memory past its type", "use reflect.New, and set the value"},
	"(reflect.Value).SetPointer":  {"(reflect.Value).SetPointer reaches memory past its type", "use Set with a value of the type"},
}

// refuseForbidden refuses a function that no cell may call, called or as a value.
func refuseForbidden(name string) {
	if no, ok := forbidden[name]; ok {
		refuse(token.NoPos, no.instead, "%s", no.reason)
	}
}
