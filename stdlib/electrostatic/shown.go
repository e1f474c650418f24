package electrostatic

import "cobber/stdlib/internal/fields"

// caution goes with every machine that is shown.
const caution = "High voltage kills, also from what a capacitor still holds; sparks light dust and gas. Local codes and licensed practice come first."

// String is what is stated of the plates, with the usual cautions.
func (p Plates) String() string {
	return "free-fall plate separator\n" + fields.Stated(p) + "\n" + caution
}

// String is what is stated of the roll, with the usual cautions.
func (d Roll) String() string { return "roll separator\n" + fields.Stated(d) + "\n" + caution }
