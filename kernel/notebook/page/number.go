package page

import (
	"fmt"
	"regexp"
	"strings"

	"cobber/kernel/notebook"
)

// A caption is what a directive of a cell says of one thing that the cell shows:
//
//	//cobber:figure curves: The sizes of both products
//	//cobber:table The balance
//
// The word before the colon is the name by which the text refers to it, as in
// [Figure](#curves); it may be left out.
type caption struct {
	kind   string // "figure" or "table"
	name   string // empty when nothing refers to it
	text   string // Markdown
	number int    // among those of its kind on the page
}

// label is "Figure 3".
func (c *caption) label() string {
	return fmt.Sprintf("%s%s %d", strings.ToUpper(c.kind[:1]), c.kind[1:], c.number)
}

// anchor is the name of the place on the page.
func (c *caption) anchor() string {
	if c.name != "" {
		return c.name
	}
	return fmt.Sprintf("%s-%d", c.kind, c.number)
}

var (
	captionLine = regexp.MustCompile(`^//cobber:(figure|table)(?:\s+(.*))?$`)
	captionName = regexp.MustCompile(`^([a-z][a-z0-9-]*):\s+(.*)$`)
)

// withoutCaptions takes the captions out of the head of a cell. On the page
// they stand with what they speak of.
func withoutCaptions(source string) (captions []*caption, rest string) {
	lines := strings.Split(source, "\n")
	var kept []string
	for i, line := range lines {
		trimmed := strings.TrimSpace(line)
		if trimmed != "" && !strings.HasPrefix(trimmed, "//") {
			kept = append(kept, lines[i:]...)
			break
		}
		match := captionLine.FindStringSubmatch(trimmed)
		if match == nil {
			kept = append(kept, line)
			continue
		}
		c := &caption{kind: match[1], text: strings.TrimSpace(match[2])}
		if named := captionName.FindStringSubmatch(c.text); named != nil {
			c.name, c.text = named[1], named[2]
		}
		captions = append(captions, c)
	}
	return captions, strings.Join(kept, "\n")
}

// number gives the captions of the notebook their numbers and the outputs that
// they speak of, before anything is written: the text may refer to what comes
// later.
func (b *builder) number() {
	b.captions, b.named = map[*notebook.Output]*caption{}, map[string]*caption{}
	counts := map[string]int{}
	for i := range b.notebook.Cells {
		b.current = i
		c := &b.notebook.Cells[i]
		if c.Kind != notebook.Code || tagged(c, "remove-cell") {
			continue
		}
		captions, _ := withoutCaptions(c.Source)
		for _, caption := range captions {
			o := b.outputFor(c, caption.kind)
			if o == nil {
				b.warn("the caption “%s” has no %s to stand with", shortenTo(caption.text, 40), caption.kind)
				continue
			}
			counts[caption.kind]++
			caption.number = counts[caption.kind]
			b.captions[o] = caption
			if caption.name != "" && b.named[caption.name] != nil {
				b.warn("two captions have the name %s: what refers to it finds the first", caption.name)
				caption.name = ""
			}
			b.named[caption.anchor()] = caption
			b.ids.Put([]byte(caption.anchor()))
		}
	}
}

// outputFor is the first output of the kind that has no caption yet.
func (b *builder) outputFor(c *notebook.Cell, kind string) *notebook.Output {
	if tagged(c, "remove-output") || flagged(c, "outputs_hidden") {
		return nil
	}
	for i := range c.Outputs {
		if o := &c.Outputs[i]; b.captions[o] == nil && kindOf(o) == kind {
			return o
		}
	}
	return nil
}

// kindOf tells a figure from a table, by the form that a page shows.
func kindOf(o *notebook.Output) string {
	if o.Kind != notebook.Display && o.Kind != notebook.Result {
		return ""
	}
	text, _ := o.Data["text/html"].(string)
	switch {
	case strings.Contains(text, "<table"):
		return "table"
	case strings.Contains(text, "<svg"), strings.Contains(text, "<img"):
		return "figure"
	case text != "":
		return "table" // laid out by hand, in rows
	}
	for media := range o.Data {
		if strings.HasPrefix(media, "image/") {
			return "figure"
		}
	}
	if text, ok := o.Data["text/markdown"].(string); ok && strings.Contains(text, "|") {
		return "table"
	}
	return ""
}
