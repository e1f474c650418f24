package magnetic

import (
	"cobber/stdlib/internal/fields"
	"cobber/stdlib/quantity"
)

// MaxwellGarnett is the relative permeability of a matrix with scattered round
// inclusions:
//
//	µ = µm·(µi + 2µm + 2f·(µi − µm))/(µi + 2µm − f·(µi − µm))
//
// A round grain of it magnetises as f times its inclusions would alone, each by
// its own shape; that is why Grain simply adds up its parts.
//
// Units: relative permeabilities, plain numbers; share is the volume share f of
// the inclusions, as in %.
//
// Range: permeabilities above 0; f up to about 30 %, inclusions that do not touch.
// Strings and networks of metal magnetise more.
//
// Errors: a permeability not above 0; a share outside 0 to 100 %.
//
// Source: J.C. Maxwell Garnett, Phil. Trans. R. Soc. A 203 (1904) 385.
func MaxwellGarnett(matrix, inclusions, share quantity.Quantity) (quantity.Quantity, error) {
	return quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		r := fields.Of("magnetic: a mixture")
		m, i := r.Positive("the permeability of the matrix", v[0], "1"), r.Positive("the permeability of the inclusions", v[1], "1")
		f := r.Within("the share of the inclusions", v[2], "1", 0, 1, 0)
		return quantity.Number(m * (i + 2*m + 2*f*(i-m)) / (i + 2*m - f*(i-m))), r.Err
	}, matrix, inclusions, share)
}
