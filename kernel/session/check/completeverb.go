package check

import (
	"strings"

	"cobber/kernel/session/parse"
)

// isDirective tells a comment at the cursor that is, or is becoming, a
// directive: "//c" is one, "// c" is a remark.
func isDirective(before string, comment lexeme) bool {
	const mark = "//cobber:"
	shared := min(len(comment.text), len(mark))
	return len(comment.text) > len("//") && comment.text[:shared] == mark[:shared] && !strings.HasSuffix(before, "\n")
}

// completeVerb proposes the directives that begin as the comment does.
func completeVerb(comment string) []Match {
	var matches []Match
	for verb, does := range parse.Verbs() {
		for _, text := range append([]string{""}, parse.Arguments(verb)...) {
			whole := strings.TrimRight("//cobber:"+verb+" "+text, " ")
			if strings.HasPrefix(whole, comment) {
				matches = append(matches, Match{Text: whole, Type: "keyword", Signature: does})
			}
		}
	}
	return choose(matches, comment)
}
