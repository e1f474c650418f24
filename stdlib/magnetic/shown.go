package magnetic

import (
	"fmt"

	"cobber/stdlib/internal/fields"
)

// caution goes with every machine that is shown.
const caution = "Strong magnets crush fingers, snatch tools and stop pacemakers; drums draw in hands and clothes; dust harms. Local codes and licensed practice come first."

// String is what is stated of the drum, with the usual cautions.
func (d Drum) String() string { return "dry drum or roll\n" + fields.Stated(d) + "\n" + caution }

// String is what is stated of the drum, with the usual cautions.
func (d WetDrum) String() string { return "wet drum\n" + fields.Stated(d) + "\n" + caution }

// String is what is stated of the tube, with the usual cautions.
func (d Tube) String() string { return "tube tester\n" + fields.Stated(d) + "\n" + caution }

// String is the material with its figures and their source.
func (m Material) String() string {
	text := fmt.Sprintf("%s: %v, susceptibility %v", m.Name, m.Density, m.Susceptibility)
	if !m.Saturation.IsNothing() {
		text += fmt.Sprintf(", saturates at %v", m.Saturation)
	}
	if m.Source != "" {
		text += " (" + m.Source + ")"
	}
	return text
}

// String is the result of a test in a line.
func (t Test) String() string {
	return fmt.Sprintf("yield %v, recovery %v, grade of the non-magnetics %v", t.Yield, t.Recovery, t.Remainder)
}
