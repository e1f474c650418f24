package quantity

import "slices"

// combine multiplies two units and says by what the product of the values must
// be multiplied. The unit of the result is the one that the inputs suggest:
//
//   - times a plain number or a fraction such as %, a unit stays as it is;
//   - what cancels, cancels, also in different units: t/h × min is t;
//   - units that measure the same are merged into the first: m² × mm is m³;
//   - a small mass over a large one stays, as kg/t or g/t, and so does a ratio
//     that came whole with one operand, as h/d;
//   - base units of the SI that make up a named one become it: kg·m/s² is N.
func combine(a, b []term) (*unit, factor) {
	switch {
	case isFactor(b) && !isFactor(a):
		return intern(a), sizeOf(b)
	case isFactor(a) && !isFactor(b):
		return intern(b), sizeOf(a)
	}
	return reduce(append(partsOf(a, 1), partsOf(b, 2)...))
}

// isFactor tells whether a unit does no more than multiply the value.
func isFactor(terms []term) bool {
	return len(terms) == 0 || len(terms) == 1 && terms[0].atom.isFraction()
}

func sizeOf(terms []term) factor {
	size := unity()
	for _, t := range terms {
		size = size.mul(t.atom.size.pow(t.power))
	}
	return size
}

func reduce(parts []part) (*unit, factor) {
	c := combination{parts: parts, scale: unity()}
	c.mergeSame()
	c.dropFractions()
	c.cancelBasis()
	c.mergeSorts()
	c.cancelPowers()
	c.collapse()
	c.nameCoherent()
	terms := make([]term, len(c.parts))
	for i, p := range c.parts {
		terms[i] = p.term
	}
	return intern(terms), c.scale
}

// part is a term and the operands that it comes from.
type part struct {
	term
	from int // bit 1: the first operand, bit 2: the second
}

type combination struct {
	parts []part
	scale factor
}

func partsOf(terms []term, from int) []part {
	var parts []part
	for _, t := range terms {
		if t.atom.isDelta && t.atom.symbol == "K" {
			t.atom = known().kelvin
		}
		parts = append(parts, part{t, from})
	}
	return parts
}

// sameOperand tells whether two parts come whole from one operand.
func sameOperand(p, q part) bool { return p.from == q.from && p.from != 3 }

// mergeSame adds the powers of one and the same unit.
func (c *combination) mergeSame() {
	for i := range c.parts {
		for j := i + 1; j < len(c.parts); j++ {
			if c.parts[i].atom == c.parts[j].atom {
				c.join(i, j, c.parts[j].power)
			}
		}
	}
	c.compact()
}

// join moves power from part j into part i.
func (c *combination) join(i, j int, power exponent) {
	c.parts[i].power = c.parts[i].power.add(power)
	c.parts[i].from |= c.parts[j].from
	c.parts[j].power = exponent{}
}

// replace takes part j away and puts its size into the scale.
func (c *combination) replace(j int) {
	c.scale = c.scale.mul(c.parts[j].atom.size.pow(c.parts[j].power))
	c.parts[j].power = exponent{}
}

func (c *combination) compact() {
	kept := c.parts[:0]
	for _, p := range c.parts {
		if !p.power.isZero() {
			kept = append(kept, p)
		}
	}
	c.parts = kept
}

// dropFractions puts % and the like into the value, except where nothing else
// is left above the stroke: %/h stays, and the square of a percentage is a
// percentage.
func (c *combination) dropFractions() {
	kept := c.keptFraction()
	for i, p := range c.parts {
		if !p.atom.isFraction() {
			continue
		}
		c.replace(i)
		if i == kept {
			c.parts[i].power = whole(1)
			c.scale = c.scale.div(p.atom.size)
		}
	}
	c.compact()
}

// keptFraction is the part in which a product of fractions is shown, or -1. A
// mass fraction of a volume fraction is neither.
func (c *combination) keptFraction() int {
	kept := -1
	for i, p := range c.parts {
		switch {
		case p.power.sign() < 0:
		case !p.atom.isFraction():
			return -1
		case kept < 0 || p.atom.kind == "":
			kept = i
		case c.parts[kept].atom.kind != "" && c.parts[kept].atom.kind != p.atom.kind:
			return -1
		}
	}
	return kept
}

// cancelBasis cancels a plain tonne of one operand against a dry or wet one of
// the other, and cubic metres likewise: kWh/t × dmt/h is kW, t/h × dmt/wmt is
// dmt/h, t/m³ × bcm is t.
func (c *combination) cancelBasis() {
	for i := range c.parts {
		for j := range c.parts {
			p, q := c.parts[i], c.parts[j]
			if p.power.isZero() || q.power.isZero() || p.atom.basis != "" || q.atom.basis == "" || p.atom.mark != "" || p.atom.angle {
				continue
			}
			isOne := p.atom.dimension.raise(p.power).Mul(q.atom.dimension.raise(q.power)).IsOne()
			if isOne && p.from != q.from && !c.keptRatio([]int{i, j}) {
				c.replace(i)
				c.replace(j)
			}
		}
	}
	c.compact()
}

// mergeSorts merges units that measure the same into one of them.
func (c *combination) mergeSorts() {
	for i := range c.parts {
		group := c.sort(i)
		if len(group) < 2 || c.keptRatio(group) {
			continue
		}
		c.cancelAcross(group)
		if group = c.sort(i); len(group) < 2 || c.keptRatio(group) {
			continue
		}
		total := exponent{}
		for _, j := range group {
			total = total.add(c.parts[j].power)
		}
		into := -1
		for _, j := range group {
			if into < 0 && c.parts[j].power.sign() == total.sign() {
				into = j
			}
		}
		for _, j := range group {
			if j != into {
				c.replace(j)
			}
		}
		if into < 0 {
			continue
		}
		more := total.add(c.parts[into].power.neg())
		c.parts[into].power = total
		c.scale = c.scale.div(c.parts[into].atom.size.pow(more))
	}
	c.compact()
}

// cancelAcross cancels what one operand has above the stroke against what the
// other has below it: USD/ozt × g/t is USD/t.
func (c *combination) cancelAcross(group []int) {
	for _, i := range group {
		for _, j := range group {
			p, q := c.parts[i], c.parts[j]
			if !p.power.isZero() && p.from|q.from == 3 && p.from != q.from && p.power == q.power.neg() && !c.isEnergyPerPeriod(p, q) {
				c.replace(i)
				c.replace(j)
			}
		}
	}
}

// isEnergyPerPeriod tells whether p is the hour of a kWh and q a longer time, or
// the other way round: kWh/t × kt/a is shown in kWh/a, not in kW.
func (c *combination) isEnergyPerPeriod(p, q part) bool {
	if p.atom.size.rational.Cmp(q.atom.size.rational) > 0 {
		p, q = q, p
	}
	hour, watt := known().atoms["h"], known().atoms["W"]
	if p.atom != hour || q.atom.dimension != hour.dimension || q.atom == hour {
		return false
	}
	for _, other := range c.parts {
		if (other.atom == watt || other.atom.unprefixed == watt) && other.power == p.power {
			return true
		}
	}
	return false
}

// sort lists the parts from i on that measure the same as part i, and as each
// other: of a dry and a wet tonne a plain one goes with the first.
func (c *combination) sort(i int) []int {
	var group []int
	for j := i; j < len(c.parts); j++ {
		alike := func(k int) bool { return c.parts[k].atom.sameSort(c.parts[j].atom) }
		if !c.parts[j].power.isZero() && alike(i) && !slices.ContainsFunc(group, func(k int) bool { return !alike(k) }) {
			group = append(group, j)
		}
	}
	return group
}

// keptRatio tells whether units that measure the same are left beside each
// other: those that came whole with one operand, a small mass over a large one
// that is all there is, and energy per day or year.
func (c *combination) keptRatio(group []int) bool {
	if !slices.ContainsFunc(group, func(i int) bool { return !sameOperand(c.parts[group[0]], c.parts[i]) }) {
		return true
	}
	if len(group) != 2 {
		return false
	}
	over, under := c.parts[group[0]], c.parts[group[1]]
	if over.power.sign() < 0 {
		over, under = under, over
	}
	if !over.power.isOne() || under.power != whole(-1) {
		return false
	}
	if c.isEnergyPerPeriod(over, under) {
		return true
	}
	return over.atom.dimension == baseDimension(mass) && len(c.parts) == 2 && over.atom.size.float() <= smallMass*under.atom.size.float()
}

// smallMass is how small one mass must be to another for a quotient of the two
// to be shown as such: kg/t and lb/st are, lb/kg is not.
const smallMass = 0.01

// cancelPowers cancels a litre against cubic metres, an hour against hertz.
func (c *combination) cancelPowers() {
	for i := range c.parts {
		for j := i + 1; j < len(c.parts); j++ {
			p, q := c.parts[i], c.parts[j]
			if p.power.isZero() || q.power.isZero() || p.atom.mark+q.atom.mark+p.atom.basis+q.atom.basis != "" || p.atom.angle || q.atom.angle || p.atom.sameSort(q.atom) || sameOperand(p, q) {
				continue
			}
			if p.atom.dimension.raise(p.power).Mul(q.atom.dimension.raise(q.power)).IsOne() {
				c.replace(i)
				c.replace(j)
			}
		}
	}
	c.compact()
}

// collapse turns what measures nothing any more into a pure number: kW·h/J.
func (c *combination) collapse() {
	if len(c.parts) < 2 {
		return
	}
	var d Dimension
	all := make([]int, len(c.parts))
	for i, p := range c.parts {
		if p.atom.mark+p.atom.basis != "" || p.atom.angle || p.atom.isFraction() {
			return
		}
		d = d.Mul(p.atom.dimension.raise(p.power))
		all[i] = i
	}
	if !d.IsOne() || c.keptRatio(all) {
		return
	}
	for i := range c.parts {
		c.replace(i)
	}
	c.compact()
}

// nameCoherent gives a product of SI units without prefixes the name that the
// SI has for it. A newton metre stays: it may be a torque.
func (c *combination) nameCoherent() {
	if len(c.parts) < 2 {
		return
	}
	var d Dimension
	symbols := ""
	for _, p := range c.parts {
		if !p.atom.size.isOne() || p.atom.mark+p.atom.basis != "" || p.atom.angle || p.atom.dimension.IsOne() || p.atom.isDelta {
			return
		}
		d = d.Mul(p.atom.dimension.raise(p.power))
		symbols += p.atom.symbol + p.power.superscript()
	}
	if symbols == "Nm" || symbols == "mN" {
		return
	}
	for _, a := range known().coherent {
		if a.dimension == d {
			c.parts = []part{{term{a, whole(1)}, 3}}
			return
		}
	}
}
