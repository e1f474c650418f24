package classification

import (
	"fmt"

	"cobber/stdlib/internal/fields"
)

// caution goes with every dry machine that is shown.
const caution = "Dust harms lungs and may explode; rotors draw in hands. Local codes and licensed practice come first."

// String is what is stated of the hydrocyclone.
func (h Hydrocyclone) String() string { return "hydrocyclone\n" + fields.Stated(h) }

// String is what is stated of the classifier, with the usual cautions.
func (a AirClassifier) String() string {
	return "air classifier\n" + fields.Stated(a) + "\n" + caution
}

// String is what is stated of the cyclone, with the usual cautions.
func (g GasCyclone) String() string { return "gas cyclone\n" + fields.Stated(g) + "\n" + caution }

// String is how the hydrocyclone runs, in a line.
func (w Working) String() string {
	return fmt.Sprintf("corrected cut %v, exponent %v, pressure drop %v, underflow over overflow %v by volume", w.Cut, w.Exponent, w.Pressure, w.Split)
}
