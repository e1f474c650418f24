package compare

import (
	"fmt"
	"maps"
	"reflect"
	"regexp"
	"slices"
	"strings"
)

// bundles compares the forms of one value. The saved ones are what counts: a
// form that is new says the same in another way.
func bundles(old, new map[string]any, o Options) (at, text string) {
	for _, media := range order(old) {
		if isControl(media) || repeats(media, old, new) {
			continue
		}
		content, ok := new[media]
		if !ok {
			return media, "this form was saved, and is not shown any more"
		}
		if text := contents(media, old[media], content, o); text != "" {
			return media, text
		}
	}
	return "", ""
}

// order puts the text first: its difference is the one people understand.
func order(bundle map[string]any) []string {
	list := slices.Sorted(maps.Keys(bundle))
	slices.SortStableFunc(list, func(a, b string) int { return rank(a) - rank(b) })
	return list
}

func rank(media string) int {
	switch {
	case media == "text/plain":
		return 0
	case strings.HasPrefix(media, "text/"):
		return 1
	case media == "image/svg+xml":
		return 2
	}
	return 3
}

// isControl knows the forms that point into a running session, and are other
// ones in each.
func isControl(media string) bool { return strings.HasPrefix(media, "application/vnd.jupyter.widget-") }

// repeats says that a drawing is compared already in a form whose numbers can
// be read.
func repeats(media string, old, new map[string]any) bool {
	plainer := []string{"image/svg+xml"}
	switch media {
	case "application/pdf":
		plainer = append(plainer, "image/png")
	case "image/png", "image/jpeg", "image/webp", "image/gif":
	default:
		return false
	}
	for _, form := range plainer {
		if old[form] != nil && new[form] != nil {
			return true
		}
	}
	return false
}

func contents(media string, old, new any, o Options) string {
	before, isText := old.(string)
	after, stillText := new.(string)
	switch {
	case isText != stillText:
		return "the form holds another kind of value"
	case !isText:
		return values("", old, new, o)
	case before == after:
		return ""
	}
	switch media {
	case "image/png", "image/jpeg", "image/gif":
		return bitmaps(before, after)
	case "application/pdf", "image/webp":
		return "the bytes differ"
	case "image/svg+xml":
		if text := texts(withoutMarks(before), withoutMarks(after), o); text != "" {
			return "the drawing differs: " + text
		}
		return ""
	case "text/html":
		if text := texts(before, after, o); text != "" {
			return texts(withoutMarkup(before), withoutMarkup(after), o) + orMarkup(before, after, o)
		}
		return ""
	}
	return texts(before, after, o)
}

// orMarkup names a difference of HTML that is not one of its words.
func orMarkup(before, after string, o Options) string {
	if texts(withoutMarkup(before), withoutMarkup(after), o) != "" {
		return ""
	}
	return "the words are the same, and the markup differs: " + texts(before, after, o)
}

// contentMark is a name made of a hash of the content, as drawings have them so
// that two on one page do not clash. A change in the last digit changes it.
var contentMark = regexp.MustCompile(`-[0-9a-f]{8,}\b`)

func withoutMarks(text string) string { return contentMark.ReplaceAllString(text, "") }

func withoutMarkup(text string) string {
	var b strings.Builder
	depth := 0
	for _, r := range text {
		switch {
		case r == '<':
			depth++
			b.WriteByte(' ')
		case r == '>' && depth > 0:
			depth--
		case depth == 0:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// values compares what JSON holds.
func values(path string, old, new any, o Options) string {
	switch before := old.(type) {
	case map[string]any:
		after, ok := new.(map[string]any)
		if !ok || len(before) != len(after) {
			return path + " holds other keys"
		}
		for _, key := range slices.Sorted(maps.Keys(before)) {
			if _, ok := after[key]; !ok {
				return path + " has no key " + key + " any more"
			}
			if text := values(strings.TrimPrefix(path+"."+key, "."), before[key], after[key], o); text != "" {
				return text
			}
		}
		return ""
	case []any:
		after, ok := new.([]any)
		if !ok || len(before) != len(after) {
			return path + " has another length"
		}
		for i := range before {
			if text := values(fmt.Sprintf("%s[%d]", path, i), before[i], after[i], o); text != "" {
				return text
			}
		}
		return ""
	}
	if reflect.DeepEqual(old, new) {
		return ""
	}
	if text := texts(fmt.Sprint(old), fmt.Sprint(new), o); text != "" {
		return strings.TrimPrefix(path+": ", ": ") + text
	}
	return ""
}
