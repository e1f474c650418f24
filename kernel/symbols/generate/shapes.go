package main

import (
	"fmt"
	"go/types"
	"strings"
)

// shape is how many parameters and results a function has; the helpers that
// call one are written once per shape, generic in the types.
type shape struct {
	parameters, results int
	variadic            bool
}

func shapeOf(sig *types.Signature) shape {
	return shape{sig.Params().Len(), sig.Results().Len(), sig.Variadic()}
}

func (h shape) String() string {
	if h.variadic {
		return fmt.Sprintf("%d_%d_variadic", h.parameters, h.results)
	}
	return fmt.Sprintf("%d_%d", h.parameters, h.results)
}

// write writes the helpers fast_… and bind_… of the shape.
func (h shape) write(s *source) {
	var names []string
	for i := range h.parameters {
		names = append(names, fmt.Sprintf("A%d", i))
	}
	parameters := strings.Join(names, ", ")
	if h.variadic {
		parameters = strings.Join(append(names[:h.parameters-1:h.parameters-1], fmt.Sprintf("...A%d", h.parameters-1)), ", ")
	}
	var results []string
	for i := range h.results {
		results = append(results, fmt.Sprintf("R%d", i))
	}
	typeParameters := ""
	if all := append(names, results...); len(all) > 0 {
		typeParameters = "[" + strings.Join(all, ", ") + " any]"
	}
	function := fmt.Sprintf("f func(%s) (%s)", parameters, strings.Join(results, ", "))

	s.printf("func fast_%s%s(%s) func(args, results []p_unsafe.Pointer) {\n", h, typeParameters, function)
	s.printf("\treturn func(args, results []p_unsafe.Pointer) {\n\t\t%s\n\t}\n}\n\n", h.call("args[%d]", "results[%d]"))

	s.printf("func bind_%s%s(%s, args, results []uintptr) func(frame p_unsafe.Pointer) {\n", h, typeParameters, function)
	s.printf("%s%s", unpack("a", "args", h.parameters), unpack("r", "results", h.results))
	s.printf("\treturn func(frame p_unsafe.Pointer) {\n\t\t%s\n\t}\n}\n\n",
		h.call("p_unsafe.Add(frame, a%d)", "p_unsafe.Add(frame, r%d)"))
}

func unpack(prefix, from string, count int) string {
	if count == 0 {
		return ""
	}
	var left, right []string
	for i := range count {
		left = append(left, fmt.Sprintf("%s%d", prefix, i))
		right = append(right, fmt.Sprintf("%s[%d]", from, i))
	}
	return "\t" + strings.Join(left, ", ") + " := " + strings.Join(right, ", ") + "\n"
}

// call writes the call itself, given how to write the place of the nth
// argument and result.
func (h shape) call(argument, result string) string {
	var arguments, results []string
	for i := range h.parameters {
		place := fmt.Sprintf(argument, i)
		if h.variadic && i == h.parameters-1 {
			arguments = append(arguments, fmt.Sprintf("*(*[]A%d)(%s)...", i, place))
			continue
		}
		arguments = append(arguments, fmt.Sprintf("*(*A%d)(%s)", i, place))
	}
	for i := range h.results {
		results = append(results, fmt.Sprintf("*(*R%d)(%s)", i, fmt.Sprintf(result, i)))
	}
	text := "f(" + strings.Join(arguments, ", ") + ")"
	if len(results) > 0 {
		text = strings.Join(results, ", ") + " = " + text
	}
	return text
}
