package parse

import (
	"go/token"
	"slices"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"cobber/kernel/source"
)

// Directive is a comment //cobber:VERB at the head of a cell.
type Directive struct {
	Verb      string
	Arguments string
	Offset    int
}

const directivePrefix = "//cobber:"

// The directives.
const (
	// Working renders the assignments of the cell with the values they had.
	Working = "working"
	// Inputs lets values of the cell be set from outside when its notebook is run.
	Inputs = "inputs"
	// Figure and Table give what the cell shows a number and a caption on a page.
	Figure = "figure"
	Table  = "table"
)

// verbs are the directives there are, each with what it does.
var verbs = map[string]string{
	Working: "show the cell's assignments as formula, numbers and result; //cobber:working expand shows the first calls of your own functions too",
	Inputs:  "cobber run -set NAME=VALUE may set the values of this cell",
	Figure:  "caption of the figure that the cell shows; //cobber:figure NAME: CAPTION lets the text refer to it by [Figure](#NAME)",
	Table:   "caption of the table that the cell shows; //cobber:table NAME: CAPTION lets the text refer to it by [Table](#NAME)",
}

// Verbs returns the directives there are, each with what it does.
func Verbs() map[string]string {
	known := make(map[string]string, len(verbs))
	for verb, does := range verbs {
		known[verb] = does
	}
	return known
}

// arguments says which arguments a directive may have; one that is not here is
// followed by words.
var arguments = map[string][]string{Working: {"", "expand"}, Inputs: {""}}

// Arguments returns what may stand behind a verb.
func Arguments(verb string) []string {
	var known []string
	for _, argument := range arguments[verb] {
		if argument != "" {
			known = append(known, argument)
		}
	}
	return known
}

// Has returns the directive of that verb, if the cell has it.
func (c *Cell) Has(verb string) (Directive, bool) {
	for _, d := range c.Directives {
		if d.Verb == verb {
			return d, true
		}
	}
	return Directive{}, false
}

// Directives returns the directives at the head of a text, wrong ones left out.
func Directives(text string) []Directive { return scan(source.Cell{Text: text}).directives }

// Comment is a comment of a cell.
type Comment struct {
	Offset int
	Text   string // with its marks
}

// comments returns the comments of the cell that are no directives.
func (s *scanned) comments() []Comment {
	var list []Comment
	for _, l := range s.tokens {
		if l.kind == token.COMMENT && !strings.HasPrefix(l.text, directivePrefix) {
			list = append(list, Comment{l.offset, l.text})
		}
	}
	return list
}

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
		verb, given, _ := strings.Cut(strings.TrimRight(rest, "\r"), " ")
		d := Directive{Verb: verb, Arguments: strings.TrimSpace(given), Offset: l.offset}
		switch {
		case verbs[verb] == "":
			s.fault(l.offset, len(directivePrefix)+len(verb), "unknown directive "+directivePrefix+verb, knownVerbs())
		case !head:
			s.fault(l.offset, len(directivePrefix)+len(verb), "a directive stands at the head of its cell",
				"Move the comment above the first line of code.")
		case !mayFollow(verb, d.Arguments):
			s.fault(l.offset+len(directivePrefix)+len(verb)+1, max(1, utf8.RuneCountInString(d.Arguments)),
				directivePrefix+verb+" knows no argument "+strconv.Quote(d.Arguments), knownArguments(verb))
		default:
			s.directives = append(s.directives, d)
		}
	}
}

func mayFollow(verb, given string) bool {
	known, limited := arguments[verb]
	return !limited || slices.Contains(known, given)
}

func knownVerbs() string {
	var known []string
	for verb := range verbs {
		known = append(known, directivePrefix+verb)
	}
	sort.Strings(known)
	return "Known directives: " + strings.Join(known, ", ") + ". A blank after // makes it a remark."
}

func knownArguments(verb string) string {
	known := Arguments(verb)
	if len(known) == 0 {
		return "Nothing stands behind it. Put the remark on a line of its own."
	}
	return "It may be followed by: " + strings.Join(known, ", ") + "."
}
