package screening

import (
	"strings"

	"cobber/stdlib/internal/fields"
)

// caution goes with every machine that is shown.
const caution = "Screens shake, throw stones and dust, and start without warning; they are locked off before anyone enters. Local codes and licensed practice come first."

// String is what is stated of the deck, with the usual cautions.
func (d CapacityDeck) String() string {
	return "deck of a vibrating screen\n" + fields.Stated(d) + "\n" + caution
}

// String is what is stated of the deck, with the usual cautions.
func (d TrialDeck) String() string {
	return "deck of a vibrating screen, by throws\n" + fields.Stated(d) + "\n" + caution
}

// String is what is stated of the mesh, in a line.
func (m Mesh) String() string { return oneLine(m) }

// String is what is stated of the motion, in a line.
func (m Motion) String() string { return oneLine(m) }

func oneLine(of any) string { return strings.ReplaceAll(fields.Stated(of), "\n", ", ") }
