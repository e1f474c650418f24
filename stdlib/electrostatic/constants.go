package electrostatic

// vacuumPermittivity is ε₀ in F/m (CODATA 2018).
const vacuumPermittivity = 8.8541878128e-12

// elementaryCharge is e in C, exact.
const elementaryCharge = 1.602176634e-19

// standardGravity is that of the Earth, m/s² (ISO 80000-3).
const standardGravity = 9.80665
