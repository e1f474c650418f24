package control

import (
	"fmt"
	"strings"

	"cobber/stdlib/show"
)

// Show puts the controls on the page and below them what draw gives; each time
// a control is moved, draw is called again and its result takes the place. draw
// reads the present settings by the controls' Value and On. What it gives is
// shown as the last value of a cell would be: a plot, a table, a quantity.
//
// While a control moves faster than draw is done, settings between are left
// out. A draw that fails when a control has been moved says so in the place of
// its result; one that fails at the start fails the cell.
//
// Errors: no draw, no control, two controls of one name.
func Show(draw func() any, controls ...Control) error {
	if draw == nil {
		return fmt.Errorf("there is nothing to draw: give Show a function that returns what is to be shown")
	}
	if len(controls) == 0 {
		return fmt.Errorf("there is nothing to move: give Show a control or more")
	}
	panel := &show.Panel{Draw: draw}
	names := map[string]bool{}
	for i, c := range controls {
		if c == nil {
			return fmt.Errorf("control %d of %d is nil", i+1, len(controls))
		}
		k := c.knob()
		if names[k.Name] {
			return fmt.Errorf("two controls are called %q: give each a name of its own", k.Name)
		}
		names[k.Name] = true
		panel.Knobs = append(panel.Knobs, k)
		panel.Name += k.Name + "; "
	}
	panel.Name = strings.TrimSuffix(panel.Name, "; ")
	panel.Show(draw())
	return nil
}
