package page

import (
	"encoding/base64"
	"fmt"
	"html"
	"mime"
	"net/http"
	"net/url"
	"path"
	"regexp"
	"strings"
)

var (
	pictureTag = regexp.MustCompile(`(?is)<img\b[^>]*>`)
	pictureSrc = regexp.MustCompile(`(?is)\bsrc\s*=\s*("[^"]*"|'[^']*')`)
	pictureAlt = regexp.MustCompile(`(?is)\balt\s*=\s*("[^"]*"|'[^']*')`)
)

// pictures writes the pictures that html names into it. One that lies on a
// network becomes a link, since the page must load nothing.
func (b *builder) pictures(markup string, attachments map[string]any) string {
	return pictureTag.ReplaceAllStringFunc(markup, func(tag string) string {
		match := pictureSrc.FindStringSubmatch(tag)
		if match == nil {
			return tag
		}
		source := html.UnescapeString(strings.Trim(match[1], `"'`))
		alt := ""
		if match := pictureAlt.FindStringSubmatch(tag); match != nil {
			alt = html.UnescapeString(strings.Trim(match[1], `"'`))
		}
		if strings.TrimSpace(alt) == "" {
			b.warn("the picture %s has no words for those who do not see it: write them between the brackets", shortenTo(source, 40))
		}
		data, err := b.picture(source, attachments)
		if err != nil {
			b.warn("the picture %s is not on the page: %v", source, err)
			return `<a class="missing" href="` + html.EscapeString(source) + `">` + html.EscapeString(orElse(alt, source)) + `</a>`
		}
		return strings.Replace(tag, match[0], `src="`+html.EscapeString(data)+`"`, 1)
	})
}

// picture returns the data address of a picture named in text.
func (b *builder) picture(source string, attachments map[string]any) (string, error) {
	if strings.HasPrefix(source, "data:") {
		return source, nil
	}
	if name, ok := strings.CutPrefix(source, "attachment:"); ok {
		if plain, err := url.PathUnescape(name); err == nil {
			name = plain
		}
		bundle, _ := attachments[name].(map[string]any)
		for media, content := range bundle {
			if text, ok := content.(string); ok && strings.HasPrefix(media, "image/") {
				return dataAddress(media, text), nil
			}
		}
		return "", fmt.Errorf("the cell has no attachment of that name")
	}
	address, err := url.Parse(source)
	if err != nil {
		return "", err
	}
	if address.Scheme != "" || address.Host != "" {
		return "", fmt.Errorf("it lies on a network, and the page loads nothing; save it beside the notebook to have it on the page")
	}
	if b.options.File == nil {
		return "", fmt.Errorf("there is no folder to read it from")
	}
	content, err := b.options.File(address.Path)
	if err != nil {
		return "", err
	}
	media := mime.TypeByExtension(path.Ext(address.Path))
	if media == "" {
		media = http.DetectContentType(content)
	}
	if !strings.HasPrefix(media, "image/") {
		return "", fmt.Errorf("it is not a picture but %s", media)
	}
	return dataAddress(media, base64.StdEncoding.EncodeToString(content)), nil
}

// dataAddress takes the base64 text of a picture, with or without line ends.
func dataAddress(media, content string) string {
	return "data:" + media + ";base64," + strings.Join(strings.Fields(content), "")
}

func orElse(text, other string) string {
	if text == "" {
		return other
	}
	return text
}
