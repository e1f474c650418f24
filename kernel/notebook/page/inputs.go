package page

import (
	"fmt"
	"html"
	"strings"

	"cobber/kernel/notebook"
)

// inputs lists the values of a cell that can be set from outside, and which
// were: there the code shows another value than the one used.
func (b *builder) inputs(c *notebook.Cell) {
	list := c.Inputs()
	if len(list) == 0 {
		return
	}
	b.body.WriteString("<div class=\"output inputs\"><table>\n<thead><tr><th>input</th><th>value</th><th>set from outside</th></tr></thead>\n<tbody>\n")
	for _, in := range list {
		fmt.Fprintf(&b.body, "<tr><td><code>%s</code></td><td>%s</td><td>%s</td></tr>\n",
			html.EscapeString(in.Name), html.EscapeString(in.Value), html.EscapeString(setWords(in)))
	}
	b.body.WriteString("</tbody>\n</table></div>\n")
}

func setWords(in notebook.Input) string {
	if !in.Set {
		return "no"
	}
	return "yes, in place of " + in.Own
}

// inputList is inputs as Markdown.
func inputList(c *notebook.Cell) string {
	var out strings.Builder
	for _, in := range c.Inputs() {
		fmt.Fprintf(&out, "| `%s` | %s | %s |\n", in.Name, in.Value, setWords(in))
	}
	if out.Len() == 0 {
		return ""
	}
	return "| input | value | set from outside |\n|---|---|---|\n" + out.String()
}
