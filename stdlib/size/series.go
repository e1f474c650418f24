package size

// Openings in millimetres, coarsest first, as the standards print them. They
// are rounded preferred numbers, so they are data and not a formula.

// isoR20by3 is the principal series of ISO 565 and ISO 3310-1.
var isoR20by3 = []float64{
	125, 90, 63, 45, 31.5, 22.4, 16, 11.2, 8, 5.6, 4, 2.8, 2, 1.4, 1,
	0.71, 0.5, 0.355, 0.25, 0.18, 0.125, 0.09, 0.063, 0.045,
}

// isoR40by3 is the supplementary series R40/3 of the same standards.
var isoR40by3 = []float64{
	125, 106, 90, 75, 63, 53, 45, 37.5, 31.5, 26.5, 22.4, 19, 16, 13.2, 11.2, 9.5,
	8, 6.7, 5.6, 4.75, 4, 3.35, 2.8, 2.36, 2, 1.7, 1.4, 1.18, 1,
	0.85, 0.71, 0.6, 0.5, 0.425, 0.355, 0.3, 0.25, 0.212, 0.18, 0.15,
	0.125, 0.106, 0.09, 0.075, 0.063, 0.053, 0.045, 0.038,
}

// isoRounded10 is the end of ISO 3310-1 below its other series, in the rounded
// series R'10 of preferred numbers.
var isoRounded10 = []float64{0.032, 0.025, 0.02}

// isoR20 is the supplementary series R20: decades of one set of numbers down to
// 0.1 mm, then two-digit openings.
func isoR20() []float64 {
	openings := []float64{125, 112}
	for _, decade := range []float64{1, 10, 100} {
		for _, first := range []float64{
			100, 90, 80, 71, 63, 56, 50, 45, 40, 35.5, 31.5, 28, 25, 22.4, 20, 18, 16, 14, 12.5, 11.2,
		} {
			openings = append(openings, first/decade)
		}
	}
	return append(openings, 0.1, 0.09, 0.08, 0.071, 0.063, 0.056, 0.05, 0.045, 0.04, 0.036)
}

// namedSieve is a sieve's name in its series and its opening.
type namedSieve struct {
	name    string
	opening float64
}

// astmE11 pairs the names of ASTM E11 with their openings. The names in inches
// are names: the 1 in sieve has an opening of 25.0 mm, not 25.4 mm.
var astmE11 = []namedSieve{
	{"5 in", 125}, {"4.24 in", 106}, {"4 in", 100}, {"3-1/2 in", 90}, {"3 in", 75},
	{"2-1/2 in", 63}, {"2.12 in", 53}, {"2 in", 50}, {"1-3/4 in", 45}, {"1-1/2 in", 37.5},
	{"1-1/4 in", 31.5}, {"1.06 in", 26.5}, {"1 in", 25}, {"7/8 in", 22.4}, {"3/4 in", 19},
	{"5/8 in", 16}, {"0.530 in", 13.2}, {"1/2 in", 12.5}, {"7/16 in", 11.2}, {"3/8 in", 9.5},
	{"5/16 in", 8}, {"0.265 in", 6.7}, {"1/4 in", 6.3},
	{"#3-1/2", 5.6}, {"#4", 4.75}, {"#5", 4}, {"#6", 3.35}, {"#7", 2.8}, {"#8", 2.36},
	{"#10", 2}, {"#12", 1.7}, {"#14", 1.4}, {"#16", 1.18}, {"#18", 1}, {"#20", 0.85},
	{"#25", 0.71}, {"#30", 0.6}, {"#35", 0.5}, {"#40", 0.425}, {"#45", 0.355}, {"#50", 0.3},
	{"#60", 0.25}, {"#70", 0.212}, {"#80", 0.18}, {"#100", 0.15}, {"#120", 0.125},
	{"#140", 0.106}, {"#170", 0.09}, {"#200", 0.075}, {"#230", 0.063}, {"#270", 0.053},
	{"#325", 0.045}, {"#400", 0.038}, {"#450", 0.032}, {"#500", 0.025}, {"#635", 0.02},
}

// tyler is the standard screen scale of the W.S. Tyler Company, meshes per inch
// and openings as printed before the sieves were standardised with ASTM E11; old
// papers mean these. Finer than 200 mesh, books print openings up to 2 µm apart;
// these are the usual ones.
var tyler = []namedSieve{
	{"2-1/2", 7.925}, {"3", 6.680}, {"3-1/2", 5.613}, {"4", 4.699}, {"5", 3.962}, {"6", 3.327}, {"7", 2.794}, {"8", 2.362},
	{"9", 1.981}, {"10", 1.651}, {"12", 1.397}, {"14", 1.168}, {"16", 0.991}, {"20", 0.833}, {"24", 0.701}, {"28", 0.589},
	{"32", 0.495}, {"35", 0.417}, {"42", 0.351}, {"48", 0.295}, {"60", 0.246}, {"65", 0.208}, {"80", 0.175}, {"100", 0.147},
	{"115", 0.124}, {"150", 0.104}, {"170", 0.088}, {"200", 0.074},
	{"250", 0.061}, {"270", 0.053}, {"325", 0.043}, {"400", 0.038},
}

// tylerName is how a Tyler sieve is designated.
func tylerName(mesh string) string { return "Tyler " + mesh + " mesh" }
