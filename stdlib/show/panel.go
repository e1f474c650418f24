package show

import (
	"html"
	"slices"
	"strings"
	"sync"
)

// Panel is a group of knobs that a page may offer, and what is to be drawn anew
// when one of them has been turned. Package control makes them; a page that has
// no knobs shows their settings as text.
type Panel struct {
	Name  string // names its places on the page
	Knobs []Knob
	Draw  func() any // from the knobs' present settings
}

// Form is how a knob is turned.
type Form int

// The forms of knobs.
const (
	FormSlide   Form = iota // between Low and High in steps
	FormDecades             // the same by powers of ten: a Step is a share of a decade
	FormChoice              // one of Options; the setting is its index
	FormSwitch              // on at 1, off at 0
)

// Knob is a control as a page sees it: a setting that is a number.
type Knob struct {
	Name            string
	Unit            string // of the numbers; empty where they have none
	Form            Form
	Low, High, Step float64
	Options         []string
	Get             func() float64
	Set             func(float64) error // refuses what is out of bounds
	Text            func() string       // the setting in words
}

// Show shows a panel and below it the value, which a page draws anew.
func (p *Panel) Show(value any) {
	send(Event{Kind: KindPanel, Panel: p, Values: []any{value}})
}

// String is the settings, one a line.
func (p *Panel) String() string {
	lines := make([]string, len(p.Knobs))
	for i, k := range p.Knobs {
		lines[i] = k.Name + ": " + k.Text()
	}
	return strings.Join(lines, "\n")
}

// HTML is the settings as a small table.
func (p *Panel) HTML() string {
	var b strings.Builder
	b.WriteString(`<table style="border-collapse:collapse">`)
	for _, k := range p.Knobs {
		b.WriteString(`<tr><th scope="row" style="text-align:left;font-weight:normal;padding:0 1.5em 0 0">` + html.EscapeString(k.Name) +
			`</th><td style="text-align:left">` + html.EscapeString(k.Text()) + "</td></tr>")
	}
	b.WriteString("</table>")
	return b.String()
}

// ---- settings from outside

var presets = struct {
	sync.Mutex
	values map[string]string
	used   map[string]bool
}{}

// Preset gives knobs that are made later, by their names, settings to start
// from; a program that runs notebooks calls it. Unused tells which of the names
// no knob has had.
func Preset(settings map[string]string) {
	presets.Lock()
	defer presets.Unlock()
	presets.values, presets.used = settings, map[string]bool{}
}

// Unused lists the names given to Preset that no knob has asked for, in order.
func Unused() []string {
	presets.Lock()
	defer presets.Unlock()
	var names []string
	for name := range presets.values {
		if !presets.used[name] {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// Start is the setting that Preset has for a knob of the name.
func Start(name string) (setting string, ok bool) {
	presets.Lock()
	defer presets.Unlock()
	setting, ok = presets.values[name]
	if ok {
		presets.used[name] = true
	}
	return setting, ok
}
