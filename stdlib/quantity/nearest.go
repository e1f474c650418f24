package quantity

import (
	"cmp"
	"errors"
	"math/big"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

func parseRational(text string) (*big.Rat, error) {
	if text == "" || len(text) > 12 || strings.Trim(text, "-0123456789./") != "" {
		return nil, errors.New("not a number")
	}
	f, ok := new(big.Rat).SetString(text)
	if !ok {
		return nil, errors.New("not a number")
	}
	return f, nil
}

// suggestions is how many units an error offers.
const suggestions = 3

// longestWord is the length beyond which nothing is like a word.
const longestWord = 50

// nearest lists the units whose spelling is closest to word, best first.
func (r *registry) nearest(word string) []string {
	length := utf8.RuneCountInString(word)
	if length > longestWord {
		return nil
	}
	limit := min(2+2*(length/4), 2*length-1)
	distances := map[*atom]int{}
	best := limit
	consider := func(spelling string, a *atom) {
		if a.prefix != "" && !strings.Contains("µmckMG", a.prefix) {
			return
		}
		if further := utf8.RuneCountInString(spelling) - length; 2*max(further, -further) > limit {
			return
		}
		d := spellingDistance(word, spelling)
		if before, seen := distances[a]; d <= limit && (!seen || d < before) {
			distances[a] = d
			best = min(best, d)
		}
	}
	for s, a := range r.atoms {
		consider(s, a)
	}
	for s, a := range r.prefixed {
		consider(s, a)
	}
	var found []*atom
	for a, d := range distances {
		if d <= best+1 {
			found = append(found, a)
		}
	}
	slices.SortFunc(found, func(a, b *atom) int {
		return cmp.Or(distances[a]-distances[b], a.id-b.id) // the common ones stand first in the table
	})
	var out []string
	for _, a := range found[:min(len(found), suggestions)] {
		out = append(out, a.symbol)
	}
	return out
}

// spellingDistance counts the letters to insert, drop, change or swap, each as
// 2; a letter that is only capital or small instead counts 1.
func spellingDistance(a, b string) int {
	x, y := []rune(a), []rune(b)
	before, last := make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = 2 * j
	}
	for i := 1; i <= len(x); i++ {
		row := make([]int, len(y)+1)
		row[0] = 2 * i
		for j := 1; j <= len(y); j++ {
			change := 2
			switch {
			case x[i-1] == y[j-1]:
				change = 0
			case unicode.ToLower(x[i-1]) == unicode.ToLower(y[j-1]):
				change = 1
			}
			row[j] = min(last[j-1]+change, last[j]+2, row[j-1]+2)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+2)
			}
		}
		before, last = last, row
	}
	return last[len(y)]
}
