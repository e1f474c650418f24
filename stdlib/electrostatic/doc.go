// Package electrostatic is about parting dry grains by their charge: how much
// charge rubbing, ions and induction give, what the gas around takes away again,
// where charged grains fall between plates, and which leave a roll.
//
// What goes in: charges of minerals per surface, or how well they conduct; a
// voltage and a gap; the gas, its pressure and temperature, or a vacuum. What
// comes out: voltages and fields at which a gas breaks down, charges, deflections,
// angles of release, and the products of a stream. Plates and Roll are unit
// operations: they have Products, Apply and Power.
//
// The package never lets a voltage stand that the gas would not bear, nor a charge
// that it would carry off, and it knows no corona in a vacuum. Gravity and gas are
// fields; their zero values stand for the Earth and its air. Charges by rubbing
// depend on surfaces, moisture and history; no table of them is here, and a result
// rests on the charges that were measured and given.
//
// Grains are spheres that do not meet one another. What fine dust does, that
// clings to larger grains and to plates, is not in it.
//
// High voltage kills; so may what a capacitor still holds after it is switched
// off. Sparks light dust and gas. Interlocks, earthing, discharge rods and dust
// control come first, and local codes and licensed practice above anything
// computed here.
//
// Read Atmosphere, Charge and Plates first.
package electrostatic
