package magnetic

import "math"

// vacuumPermeability is µ₀ in H/m; CODATA 2018 differs from 4π·10⁻⁷ in the tenth
// digit.
const vacuumPermeability = 4e-7 * math.Pi

// standardGravity is that of the Earth, m/s² (ISO 80000-3).
const standardGravity = 9.80665
