package docs

import (
	"compress/flate"
	"embed"
	"encoding/json"
	"go/doc/comment"
	"io/fs"
	"sync"
)

//go:embed text
var text embed.FS

// Doc is what is known of one name.
type Doc struct {
	Signature string // the declaration, without the bodies of functions
	Text      string // the doc comment as plain text, without its marks
	Synopsis  string // the first sentence of it
	Markdown  string // the doc comment as Markdown
	HTML      string // the doc comment as HTML
}

// entry is the form in which documentation is stored.
type entry struct {
	Signature string `json:"d,omitempty"`
	Comment   string `json:"c,omitempty"` // as written in the source
}

var (
	lock   sync.Mutex
	loaded = map[string]map[string]entry{}
)

// Of gives the documentation of a name in the package at path; "Type.Method"
// and "Type.Field" name what belongs to a type, and "" the package itself.
func Of(path, name string) (Doc, bool) {
	found, ok := packageDocs(path)[name]
	if !ok {
		return Doc{}, false
	}
	parser := &comment.Parser{LookupSym: func(string, string) bool { return true }}
	parsed := parser.Parse(found.Comment)
	printer := &comment.Printer{
		TextWidth:    76,
		HeadingLevel: 4,
		HeadingID:    func(*comment.Heading) string { return "" },
		DocLinkURL:   func(*comment.DocLink) string { return "" }, // names stay names: there is no page to go to
	}
	return Doc{
		Signature: found.Signature,
		Text:      string(printer.Text(parsed)),
		Synopsis:  synopsis(found.Comment),
		Markdown:  string(printer.Markdown(parsed)),
		HTML:      string(printer.HTML(parsed)),
	}, true
}

// Names lists what Of knows of the package at path, in no order.
func Names(path string) []string {
	var names []string
	for name := range packageDocs(path) {
		names = append(names, name)
	}
	return names
}

// packageDocs reads the documentation of a package on first use; nil if there
// is none.
func packageDocs(path string) map[string]entry {
	lock.Lock()
	defer lock.Unlock()
	if entries, ok := loaded[path]; ok {
		return entries
	}
	var entries map[string]entry
	if fs.ValidPath(path) {
		if file, err := text.Open("text/" + path + ".doc"); err == nil {
			defer file.Close()
			if json.NewDecoder(flate.NewReader(file)).Decode(&entries) != nil {
				entries = nil
			}
		}
	}
	loaded[path] = entries
	return entries
}
