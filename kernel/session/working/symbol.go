package working

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A symbol is a name of Go cut into the parts in which it is written as a
// formula: feed_grade and feedGrade are feed with the index grade, d80 is d
// with the index 80.
type symbol struct {
	base  string
	index []string
}

var (
	camel  = regexp.MustCompile(`^(\p{Ll}[\p{Ll}0-9]*)(\p{Lu}.*)$`)
	humps  = regexp.MustCompile(`^(?:\p{Lu}\p{Ll}{2,})+$`)
	hump   = regexp.MustCompile(`\p{Lu}\p{Ll}+`)
	digits = regexp.MustCompile(`^(\D+?)(\d+)$`)
)

func symbolOf(name string) symbol {
	parts := strings.FieldsFunc(name, func(c rune) bool { return c == '_' })
	if len(parts) == 0 {
		return symbol{base: name}
	}
	s := symbol{base: parts[0], index: parts[1:]}
	if m := camel.FindStringSubmatch(s.base); m != nil {
		s.base = m[1]
		s.index = append([]string{spaced(m[2])}, s.index...)
	}
	if m := digits.FindStringSubmatch(s.base); m != nil {
		s.base = m[1]
		s.index = append([]string{m[2]}, s.index...)
	}
	return s
}

// spaced writes FeedGrade as feed grade, and leaves SiO2 alone.
func spaced(text string) string {
	if !humps.MatchString(text) {
		return text
	}
	return strings.ToLower(strings.Join(hump.FindAllString(text, -1), " "))
}

// greek are the letters that names spell out.
var greek = map[string]string{
	"alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "zeta": "ζ", "eta": "η", "theta": "θ",
	"kappa": "κ", "lambda": "λ", "mu": "μ", "nu": "ν", "xi": "ξ", "rho": "ρ", "sigma": "σ", "tau": "τ",
	"phi": "φ", "chi": "χ", "psi": "ψ", "omega": "ω", "pi": "π",
	"Gamma": "Γ", "Delta": "Δ", "Theta": "Θ", "Lambda": "Λ", "Xi": "Ξ", "Sigma": "Σ", "Phi": "Φ", "Psi": "Ψ", "Omega": "Ω", "Pi": "Π",
}

var greekCommand = func() map[string]string {
	commands := map[string]string{"µ": `\mu`, "ϵ": `\epsilon`, "ϕ": `\phi`}
	for name, letter := range greek {
		commands[letter] = `\` + name
	}
	commands["ε"], commands["φ"] = `\varepsilon`, `\varphi`
	return commands
}()

func (s symbol) latex() string {
	base := wordLaTeX(s.base, false)
	if len(s.index) == 0 {
		return base
	}
	index := make([]string, len(s.index))
	for i, part := range s.index {
		index[i] = wordLaTeX(part, true)
	}
	return base + "_{" + strings.Join(index, ",") + "}"
}

// wordLaTeX writes one part: a letter leaning, a word upright.
func wordLaTeX(word string, isIndex bool) string {
	if letter, ok := greek[word]; ok {
		word = letter
	}
	if command, ok := greekCommand[word]; ok {
		return command + " "
	}
	if utf8.RuneCountInString(word) == 1 && !isIndex {
		return word
	}
	if strings.IndexFunc(word, func(c rune) bool { return !unicode.IsDigit(c) }) < 0 {
		return word
	}
	return `\mathrm{` + strings.ReplaceAll(escapeLaTeX(word), " ", `\ `) + "}"
}
