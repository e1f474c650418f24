package page

import (
	"html"
	"regexp"
	"strings"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/lexers"
)

// languageName keeps from the search for a language what cannot be one: it
// takes seconds for a name of some thousand letters.
var languageName = regexp.MustCompile(`^[\pL\pN_+#.-]{1,40}$`)

// highlight returns source as HTML with a class on each word that deserves one.
// Source of a language that is not known is shown plain.
func highlight(source, language string) string {
	if !languageName.MatchString(language) {
		return html.EscapeString(source)
	}
	lexer := lexers.Get(language)
	if lexer == nil {
		return html.EscapeString(source)
	}
	tokens, err := lexer.Tokenise(nil, source)
	if err != nil {
		return html.EscapeString(source)
	}
	var b strings.Builder
	last, unit := chroma.Token{}, false
	for token := tokens(); token != chroma.EOF; token = tokens() {
		if token.Value == "`" && (unit || last.Type.InCategory(chroma.Literal) && last.Type.InSubCategory(chroma.LiteralNumber)) {
			unit = !unit
			writeToken(&b, "unit", token.Value)
		} else if unit {
			writeToken(&b, "unit", token.Value)
		} else {
			writeToken(&b, classOf(token.Type), token.Value)
		}
		last = token
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// classOf keeps the few distinctions that help in reading.
func classOf(kind chroma.TokenType) string {
	switch {
	case kind == chroma.CommentPreproc:
		return "directive"
	case kind.InCategory(chroma.Comment):
		return "comment"
	case kind == chroma.KeywordType:
		return "type"
	case kind.InCategory(chroma.Keyword):
		return "keyword"
	case kind.InSubCategory(chroma.LiteralNumber):
		return "number"
	case kind.InSubCategory(chroma.LiteralString):
		return "string"
	case kind == chroma.NameFunction:
		return "function"
	}
	return ""
}

func writeToken(b *strings.Builder, class, text string) {
	text = html.EscapeString(text)
	if class == "" {
		b.WriteString(text)
		return
	}
	b.WriteString(`<span class="` + class + `">` + text + `</span>`)
}
