package quantity

import "strings"

const (
	readingInProduct = "a reading of a temperature scale has no multiples; take it in kelvin first, as t.To(\"K\"), or take its difference from another reading"
	readingSum       = "both are readings of a temperature scale; subtract them for a difference, or take both in kelvin first, as t.To(\"K\")"
	readingNegated   = "a reading of a temperature scale has no magnitude; take it in kelvin first, as t.To(\"K\")"
	readingOrDelta   = "one is a reading of a temperature scale, the other a temperature difference; a difference is shown in K, Δ°C or Δ°F"
	readingFrom      = "a reading of a temperature scale cannot be taken from a temperature difference; take both in kelvin, as t.To(\"K\")"
	readingZero      = "a plain 0 is no temperature; write 0`°C` or 0`K`"
	turnsOrNumber    = "one counts an angle and the other does not, and a revolution is 1 turn or 2π radians; divide by 1`rev` to count turns, or show the angle in rad first"
)

// unlike says why units of the same dimension do not mix; empty if they do.
func unlike(a, b *unit) string {
	switch {
	case a == b || a.dimension != b.dimension:
		return ""
	case a.marks != b.marks:
		return "there is no fixed rate between " + markNames(a.marks) + " and " + markNames(b.marks) + "; multiply by a rate, such as 1.1`USD/EUR`, or declare it with quantity.Declare"
	case a.angle != b.angle && !droppable(a, b):
		return turnsOrNumber
	case a.kind != "" && b.kind != "" && a.kind != b.kind:
		return withArticle(a.kind) + " and " + withArticle(b.kind) + " do not mix; convert one into the other first, by the densities or the molar masses"
	case a.basis != b.basis && (a.basis != "" && b.basis != "" || a.mixed || b.mixed):
		return unlikeBasis(a, b)
	case a.reading && b.isDelta || a.isDelta && b.reading:
		return readingOrDelta
	}
	return ""
}

// unlikeBasis says how to bring a dry and a wet tonne, or a bank and a loose
// cubic metre, together.
func unlikeBasis(a, b *unit) string {
	for _, u := range []*unit{a, b} {
		if strings.Contains(u.basis, "bank") || strings.Contains(u.basis, "loose") {
			return "one counts volume in the bank and the other loose; convert one by the swell first, such as by 0.8`bcm/lcm`"
		}
	}
	return "one counts dry mass and the other wet mass; convert one by the moisture first, with quantity.Dry or by a factor such as 0.92`dmt/wmt`"
}

// droppable tells whether the angle by which the units differ is in radians,
// which the SI counts as 1.
func droppable(a, b *unit) bool {
	return a.bareRadian && b.bareRadian
}

func markNames(marks string) string {
	if marks == "" {
		return "a plain number"
	}
	return marks
}

func withArticle(kind string) string {
	if strings.HasPrefix(kind, "a") {
		return "an " + kind
	}
	return "a " + kind
}

// linkSum brings b to a: 3 t + 500 kg is 3.5 t. A percentage wins over a plain
// number: 1 - 5 % is 95 %.
func linkSum(a, b *unit) *link {
	if a.reading && b.reading {
		return &link{refused: true, reason: readingSum}
	}
	if a.reading || b.reading {
		return linkShiftedReading(a, b)
	}
	return linkAlike(a, b)
}

func linkAlike(a, b *unit) *link {
	if a.dimension != b.dimension {
		return &link{refused: true}
	}
	if reason := unlike(a, b); reason != "" {
		return &link{refused: true, reason: reason}
	}
	into := a
	if a == one && len(b.terms) == 1 && b.num/b.den >= leastPreferred || a.isDelta && !b.isDelta ||
		a.kind == "" && b.kind != "" && len(a.terms) == 1 && len(b.terms) == 1 ||
		a.basis == "" && b.basis != "" {
		into = b
	}
	return &link{unit: into, left: newRatio(a.size.div(into.size), 0), right: newRatio(b.size.div(into.size), 0)}
}

// leastPreferred is the size of ‰: a sum of a plain number and a smaller
// fraction, such as ppm, is a plain number.
const leastPreferred = 0.001

// linkShiftedReading adds a difference to a reading.
func linkShiftedReading(a, b *unit) *link {
	if a.dimension != b.dimension {
		return &link{refused: true}
	}
	into := a
	if b.reading {
		into = b
	}
	side := func(u *unit) ratio {
		return newRatio(u.size.div(into.size), 0)
	}
	return &link{unit: into, left: side(a), right: side(b)}
}

// linkDifference is linkSum but for readings, whose difference is in kelvin or,
// between readings in °F, in Δ°F.
func linkDifference(a, b *unit) *link {
	switch {
	case a.reading && b.reading:
		return &link{unit: differenceUnit(a), right: newRatio(b.size.div(a.size), scaleShift(b, a)), left: ratio{same: true}}
	case b.reading && a.dimension == b.dimension:
		return &link{refused: true, reason: readingFrom}
	}
	return linkSum(a, b)
}
