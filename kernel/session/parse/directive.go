package parse

import (
	"go/token"
	"sort"
	"strings"
)

// Directive is a comment //cobber:VERB at the head of a cell.
type Directive struct {
	Verb      string
	Arguments string
	Offset    int
}

const directivePrefix = "//cobber:"

// verbs are the directives there are, each with what it does.
var verbs = map[string]string{}

// headDirectives collects the directives before the first token that is not a
// comment, and faults those that are unknown or stand elsewhere.
func (s *scanned) headDirectives() {
	head := true
	for _, l := range s.tokens {
		if l.kind != token.COMMENT {
			head = false
			continue
		}
		rest, found := strings.CutPrefix(l.text, directivePrefix)
		if !found {
			continue
		}
		verb, arguments, _ := strings.Cut(strings.TrimRight(rest, "\r"), " ")
		d := Directive{Verb: verb, Arguments: strings.TrimSpace(arguments), Offset: l.offset}
		switch {
		case verbs[verb] == "":
			s.fault(l.offset, len(directivePrefix)+len(verb), "unknown directive "+directivePrefix+verb, knownVerbs())
		case !head:
			s.fault(l.offset, len(directivePrefix)+len(verb), "a directive stands at the head of its cell",
				"Move the comment above the first line of code.")
		default:
			s.directives = append(s.directives, d)
		}
	}
}

func knownVerbs() string {
	if len(verbs) == 0 {
		return "This version knows no directives. Remove the comment, or put a blank after // to keep it as a remark."
	}
	var known []string
	for verb := range verbs {
		known = append(known, directivePrefix+verb)
	}
	sort.Strings(known)
	return "Known directives: " + strings.Join(known, ", ") + "."
}
