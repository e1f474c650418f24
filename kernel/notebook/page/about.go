package page

import (
	"regexp"
	"strings"

	"cobber/kernel/notebook"
)

// about is what a notebook says of itself: in its metadata, where the notebook
// format has title and authors, and in the lines between two rules at the head
// of its first cell, which can be written in any editor:
//
//	---
//	title: Sieving a black sand
//	author: A. Miner; B. Sampler
//	date: 2 March 2027
//	abstract: What the plant recovers.
//	---
type about struct {
	title, date, abstract string
	authors               []string
	language              string // of the prose, as in HTML
	code                  string // show, fold or hide
	noContents            bool
	faults                []string
	body                  string // the first cell's text behind the lines
	hasLines              bool
}

// aboutOf reads both places; what stands at the head of the first cell wins.
func aboutOf(nb *notebook.Notebook) about {
	a := about{language: "en", code: "show"}
	for _, key := range []string{"title", "date", "abstract", "lang", "code", "contents"} {
		if text, ok := nb.Metadata[key].(string); ok {
			a.set(key, text)
		}
	}
	list, _ := nb.Metadata["authors"].([]any)
	for _, entry := range list {
		switch entry := entry.(type) {
		case string:
			a.authors = append(a.authors, entry)
		case map[string]any:
			if name, ok := entry["name"].(string); ok {
				a.authors = append(a.authors, name)
			}
		}
	}
	if len(nb.Cells) > 0 && nb.Cells[0].Kind != notebook.Code {
		a.lines(nb.Cells[0].Source)
	}
	return a
}

var keyLine = regexp.MustCompile(`^([a-z]+):\s*(.*)$`)

// lines reads "key: value" lines between two rules; an indented line goes on
// with the value before it. A cell that only begins with a rule has none.
func (a *about) lines(source string) {
	rest, ok := strings.CutPrefix(strings.TrimLeft(source, "\n"), "---\n")
	if !ok {
		return
	}
	head, body, ok := strings.Cut("\n"+rest+"\n", "\n---\n")
	if !ok {
		return
	}
	var keys, values []string
	for line := range strings.Lines(strings.TrimPrefix(head, "\n")) {
		line = strings.TrimRight(line, "\r\n")
		match := keyLine.FindStringSubmatch(line)
		switch {
		case match != nil:
			keys, values = append(keys, match[1]), append(values, bareValue(match[2]))
		case strings.TrimSpace(line) == "" && len(values) > 0:
			values[len(values)-1] += "\n\n"
		case len(values) > 0 && strings.HasPrefix(line, " "):
			values[len(values)-1] += " " + strings.TrimSpace(line)
		default:
			return // a rule and a paragraph, not lines of this kind
		}
	}
	if len(keys) == 0 {
		return
	}
	a.hasLines, a.body = true, strings.Trim(body, "\n")
	for i, key := range keys {
		a.set(key, strings.TrimSpace(values[i]))
	}
}

// bareValue takes off the quotes around a value, and the mark that says that it
// stands in the lines below.
func bareValue(value string) string {
	value = strings.TrimSpace(value)
	if value == "|" || value == ">" {
		return ""
	}
	for _, quote := range []string{`"`, "'"} {
		if inner, ok := strings.CutPrefix(value, quote); ok && strings.HasSuffix(inner, quote) {
			return strings.TrimSuffix(inner, quote)
		}
	}
	return value
}

func (a *about) set(key, value string) {
	switch key {
	case "title":
		a.title = value
	case "author", "authors":
		a.authors = nil
		for name := range strings.SplitSeq(strings.Trim(value, "[]"), ";") {
			a.authors = append(a.authors, strings.TrimSpace(name))
		}
	case "date":
		a.date = value
	case "abstract":
		a.abstract = value
	case "lang":
		a.language = value
	case "contents":
		a.noContents = value == "no" || value == "false"
	case "code":
		if value != "show" && value != "fold" && value != "hide" {
			a.faults = append(a.faults, "code: "+value+" is none of show, fold and hide")
			return
		}
		a.code = value
	default:
		a.faults = append(a.faults, "the head of the first cell says "+key+", which is none of title, author, date, abstract, lang, code and contents")
	}
}
