package control

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"cobber/stdlib/show"
)

// Choice is one of several named things.
type Choice struct {
	name    string
	options []string

	mu    sync.Mutex
	index int
}

// Choose makes a choice between options; the first is the start.
//
// Errors: fewer than two options, two that are alike.
func Choose(name string, options ...string) (*Choice, error) {
	if strings.TrimSpace(name) == "" {
		return nil, fmt.Errorf("a choice needs a name: what is chosen?")
	}
	if len(options) < 2 {
		return nil, fmt.Errorf("choice %q needs two options or more", name)
	}
	for i, o := range options {
		if slices.Contains(options[:i], o) {
			return nil, fmt.Errorf("choice %q has the option %q twice", name, o)
		}
	}
	c := &Choice{name: name, options: slices.Clone(options)}
	if text, ok := show.Start(name); ok {
		if err := c.Set(text); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// Value is the option chosen at present.
func (c *Choice) Value() string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.options[c.index]
}

// Set chooses an option.
//
// Errors: one that there is not.
func (c *Choice) Set(option string) error {
	i := slices.Index(c.options, option)
	if i < 0 {
		return fmt.Errorf("choice %q has no option %q: it has %s", c.name, option, strings.Join(c.options, ", "))
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.index = i
	return nil
}

// String is the name with the option chosen.
func (c *Choice) String() string { return c.name + ": " + c.Value() }

func (c *Choice) knob() show.Knob {
	return show.Knob{
		Name: c.name, Form: show.FormChoice, Options: c.options, High: float64(len(c.options) - 1), Step: 1,
		Get: func() float64 {
			c.mu.Lock()
			defer c.mu.Unlock()
			return float64(c.index)
		},
		Set: func(x float64) error {
			i := int(x)
			if i < 0 || i >= len(c.options) || float64(i) != x {
				return fmt.Errorf("choice %q has no option number %v", c.name, x)
			}
			return c.Set(c.options[i])
		},
		Text: c.Value,
	}
}

// Switch is on or off.
type Switch struct {
	name string

	mu sync.Mutex
	on bool
}

// Turn makes a switch that begins on or off.
//
// Errors: a switch without a name.
func Turn(name string, on bool) (*Switch, error) {
	if strings.TrimSpace(name) == "" {
		return nil, fmt.Errorf("a switch needs a name: what is on or off?")
	}
	s := &Switch{name: name, on: on}
	if text, ok := show.Start(name); ok {
		switch text {
		case "on", "true":
			s.on = true
		case "off", "false":
			s.on = false
		default:
			return nil, fmt.Errorf("switch %q is on or off, not %q", name, text)
		}
	}
	return s, nil
}

// On tells whether the switch is on.
func (s *Switch) On() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.on
}

// Set turns the switch on or off.
func (s *Switch) Set(on bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.on = on
}

// String is the name with the setting.
func (s *Switch) String() string { return s.name + ": " + s.text() }

func (s *Switch) text() string {
	if s.On() {
		return "on"
	}
	return "off"
}

func (s *Switch) knob() show.Knob {
	return show.Knob{
		Name: s.name, Form: show.FormSwitch, High: 1, Step: 1, Text: s.text,
		Get: func() float64 {
			if s.On() {
				return 1
			}
			return 0
		},
		Set: func(x float64) error { s.Set(x != 0); return nil },
	}
}
