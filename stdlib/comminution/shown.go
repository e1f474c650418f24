package comminution

import (
	"fmt"
	"slices"
	"strings"

	"cobber/stdlib/internal/fields"
)

// caution goes with every machine that is shown.
const caution = "Machines that break rock throw pieces, draw in hands and clothes, and turn on after the power is cut; dust harms and can ignite. Local codes and licensed practice come first."

// String is what is stated of the crusher, with the usual cautions.
func (m Crusher) String() string { return "crusher\n" + fields.Stated(m) + "\n" + caution }

// String is what is stated of the mill, with the usual cautions.
func (m BallMill) String() string {
	lines := []string{"tumbling mill"}
	bare := m
	bare.Ease = nil
	lines = append(lines, fields.Stated(bare))
	for _, name := range sorted(m.Ease) {
		lines = append(lines, fmt.Sprintf("Ease of %s %v", name, m.Ease[name]))
	}
	return strings.Join(append(lines, caution), "\n")
}

// String is what is stated of the mill and of what becomes of each class of particles,
// with the usual cautions.
func (m ImpactMill) String() string {
	bare := m
	bare.Behaviours, bare.Default = nil, Behaviour{}
	lines := []string{"impact mill, particles " + m.Blow.String(), fields.Stated(bare)}
	for _, name := range sorted(m.Behaviours) {
		lines = append(lines, name+": "+m.Behaviours[name].String())
	}
	if !m.Default.isNothing() {
		lines = append(lines, "all others: "+m.Default.String())
	}
	return strings.Join(append(lines, caution), "\n")
}

func sorted[V any](of map[string]V) []string {
	var names []string
	for name := range of {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// String is the behaviour in a line.
func (b Behaviour) String() string {
	switch {
	case b.flattens():
		return "flattens, " + oneLine(b.Malleable)
	case b.breaks():
		text := "breaks, " + oneLine(b.Impact)
		if b.Family.String() != "" {
			text += ", fragments by " + b.Family.String()
		}
		for i, r := range b.Releases {
			text += []string{", and falls apart into ", ", "}[min(i, 1)] + r.String()
		}
		return text
	case b.Stays:
		return "stays as it is"
	}
	return "nothing stated"
}

func oneLine(of any) string { return strings.ReplaceAll(fields.Stated(of), "\n", ", ") }

// String is the piece in a few words.
func (r Release) String() string {
	text := fmt.Sprintf("%v %s", r.Share, r.Particle)
	if !r.Grain.IsNothing() {
		text += fmt.Sprintf(" in grains of %v", r.Grain)
	}
	return text
}

// String is the family in a few words; empty for an empty one.
func (f Family) String() string {
	switch {
	case len(f.measured) > 0:
		return fmt.Sprintf("a measured family of %d ratios", len(f.measured))
	case f.alpha.IsNothing():
		return ""
	}
	return fmt.Sprintf("a truncated Rosin–Rammler family, α = %v", f.alpha)
}

// String is the rotor in a line.
func (r Rotor) String() string { return fmt.Sprintf("%v wide at %v", r.Diameter, r.Speed) }

// String is what is stated of the law, in a line.
func (m Impact) String() string { return oneLine(m) }

// String is what is stated of the metal, in a line.
func (m Malleable) String() string { return oneLine(m) }

// String is what is stated of the function, in a line.
func (s Selection) String() string { return oneLine(s) }

// String is what is stated of the function, in a line.
func (b Breakage) String() string { return oneLine(b) }

// String is what is stated of the mill and its charge, in a line.
func (m Tumbler) String() string { return oneLine(m) }

// String is what is stated of the crusher, with the usual cautions.
func (j Jaw) String() string { return "jaw crusher\n" + fields.Stated(j) + "\n" + caution }

// String is what is stated of the rolls, with the usual cautions.
func (r RollPair) String() string { return "crushing rolls\n" + fields.Stated(r) + "\n" + caution }
