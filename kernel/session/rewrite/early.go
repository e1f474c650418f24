package rewrite

import (
	"fmt"
	"strings"

	"cobber/kernel/session/check"
)

// renameEarly makes names in statements that stand before their definition in
// the cell mean what they meant before the cell: in "x := x + 1" the x on the
// right is the earlier one, whatever its type. A name that meant nothing is
// undefined there, as in a function of Go.
func renameEarly(r *check.Round) bool {
	changed := false
	for _, id := range r.EarlyUses() {
		can, known := r.CanBeEarlier(id.Name)
		switch {
		case can:
			id.Name += check.Earlier
			changed = true
		case known:
			r.Tree.Refuse(check.RefusedEarlier, id, id.Name)
		default:
			line, _ := r.Tree.Redefined(id.Name)
			r.Tree.Fault(check.Undefined, id.Pos(), len([]rune(id.Name)), "undefined: "+id.Name,
				fmt.Sprintf("%s is defined by a later statement, in line %d.", strings.TrimSpace(id.Name), line))
		}
	}
	return changed
}
