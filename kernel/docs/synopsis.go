package docs

import "go/doc"

// synopsis is the first sentence of a comment, on one line.
func synopsis(text string) string {
	return new(doc.Package).Synopsis(text)
}
