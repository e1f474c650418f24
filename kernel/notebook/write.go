package notebook

import (
	"maps"
	"strings"
)

// Write returns the bytes of a notebook file in format 4.5, or in the later
// minor version it was read in. It fails only when a JSON media type holds
// what JSON cannot say, such as a number that is not finite.
func Write(nb *Notebook) ([]byte, error) {
	cells := append([]Cell(nil), nb.Cells...)
	nameCells(cells)
	list := make([]any, len(cells))
	for i := range cells {
		list[i] = cellObject(&cells[i])
	}
	object := merged(nb.Unknown, map[string]any{
		"cells":          list,
		"metadata":       orEmpty(nb.Metadata),
		"nbformat":       4,
		"nbformat_minor": max(nb.Minor, 5),
	})
	var e encoder
	if err := e.value(object, 0); err != nil {
		return nil, err
	}
	e.WriteByte('\n')
	return e.Bytes(), nil
}

func cellObject(c *Cell) map[string]any {
	object := map[string]any{
		"cell_type": string(c.Kind),
		"id":        c.ID,
		"metadata":  orEmpty(c.Metadata),
		"source":    lines(c.Source),
	}
	if c.Attachments != nil {
		files := make(map[string]any, len(c.Attachments))
		for name, content := range c.Attachments {
			if bundle, ok := content.(map[string]any); ok {
				content = splitBundle(bundle)
			}
			files[name] = content
		}
		object["attachments"] = files
	}
	if c.Kind == Code {
		outputs := make([]any, len(c.Outputs))
		for i := range c.Outputs {
			outputs[i] = outputObject(&c.Outputs[i])
		}
		object["outputs"] = outputs
		object["execution_count"] = countValue(c.Count)
	}
	return merged(c.Unknown, object)
}

func outputObject(o *Output) map[string]any {
	object := map[string]any{"output_type": string(o.Kind)}
	switch o.Kind {
	case Stream:
		object["name"], object["text"] = o.Name, lines(o.Text)
	case Display, Result:
		object["data"], object["metadata"] = splitBundle(o.Data), orEmpty(o.Metadata)
		if o.Kind == Result {
			object["execution_count"] = countValue(o.Count)
		}
	case Failure:
		object["ename"], object["evalue"] = o.ErrorName, o.ErrorValue
		traceback := make([]any, len(o.Traceback))
		for i, line := range o.Traceback {
			traceback[i] = line
		}
		object["traceback"] = traceback
	}
	return merged(o.Unknown, object)
}

// splitBundle writes text as lines for the media types for which Jupyter does.
func splitBundle(bundle map[string]any) map[string]any {
	split := make(map[string]any, len(bundle))
	for media, content := range bundle {
		text, ok := content.(string)
		if ok && (strings.HasPrefix(media, "text/") || media == "application/javascript" || media == "image/svg+xml") {
			content = lines(text)
		}
		split[media] = content
	}
	return split
}

// lines cuts text behind each line end. The set of line ends is that of
// Python's str.splitlines, which Jupyter uses: another set would change the
// lines of files that Jupyter wrote.
func lines(text string) []any {
	list := []any{}
	start := 0
	for i, r := range text {
		end := i + len(string(r))
		switch r {
		case '\r':
			if end < len(text) && text[end] == '\n' {
				continue
			}
		case '\n', '\v', '\f', '\x1c', '\x1d', '\x1e', '\u0085', '\u2028', '\u2029':
		default:
			continue
		}
		list = append(list, text[start:end])
		start = end
	}
	if start < len(text) {
		list = append(list, text[start:])
	}
	return list
}

func countValue(count int) any {
	if count == 0 {
		return nil
	}
	return count
}

func orEmpty(object map[string]any) map[string]any {
	if object == nil {
		return map[string]any{}
	}
	return object
}

// merged adds to object the unknown keys that it does not have.
func merged(unknown, object map[string]any) map[string]any {
	if len(unknown) == 0 {
		return object
	}
	all := maps.Clone(unknown)
	maps.Copy(all, object)
	return all
}
