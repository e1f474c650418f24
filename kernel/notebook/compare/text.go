package compare

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// number is a number as people and drawings write it: with a sign of either
// kind, and with a power of ten.
var number = regexp.MustCompile(`[-−+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?`)

// colour keeps commands to terminals out of the comparison.
var colour = regexp.MustCompile(`\x1b\[[0-9;]*m`)

// texts compares two texts line by line: words must be the same, numbers near
// one another. It returns what differs first, or nothing.
func texts(old, new string, o Options) string {
	if old == new {
		return ""
	}
	before, after := linesOf(old), linesOf(new)
	for i := range max(len(before), len(after)) {
		switch {
		case i >= len(before):
			return "a line is new: " + quoted(after[i])
		case i >= len(after):
			return "a line is gone: " + quoted(before[i])
		}
		if text := lines(before[i], after[i], o); text != "" {
			return text
		}
	}
	return ""
}

func linesOf(text string) []string {
	text = strings.ReplaceAll(colour.ReplaceAllString(text, ""), "\r\n", "\n")
	return strings.Split(strings.TrimRight(text, "\n"), "\n")
}

func lines(old, new string, o Options) string {
	if old == new {
		return ""
	}
	oldNumbers, newNumbers := number.FindAllStringIndex(old, -1), number.FindAllStringIndex(new, -1)
	if len(oldNumbers) != len(newNumbers) || !sameWords(old, new, oldNumbers, newNumbers) {
		return apartAround(old, new)
	}
	for i := range oldNumbers {
		a, b := old[oldNumbers[i][0]:oldNumbers[i][1]], new[newNumbers[i][0]:newNumbers[i][1]]
		if share, near := nearby(a, b, o.Tolerance); !near {
			return apartAround(old, new) + fmt.Sprintf(" (%s and %s, %s apart)", a, b, asPercent(share))
		}
	}
	return ""
}

// sameWords compares what stands between the numbers. Blanks are the width of
// the numbers beside them, and rules the width of a column.
func sameWords(old, new string, oldNumbers, newNumbers [][]int) bool {
	oldAt, newAt := 0, 0
	for i := range oldNumbers {
		if plain(old[oldAt:oldNumbers[i][0]]) != plain(new[newAt:newNumbers[i][0]]) {
			return false
		}
		oldAt, newAt = oldNumbers[i][1], newNumbers[i][1]
	}
	return plain(old[oldAt:]) == plain(new[newAt:])
}

var rule = regexp.MustCompile(`[─━═-]{3,}`)

func plain(text string) string {
	return strings.Join(strings.Fields(rule.ReplaceAllString(text, "---")), " ")
}

// nearby compares two written numbers, and says how far apart they are as a
// share of the larger.
func nearby(a, b string, tolerance float64) (share float64, near bool) {
	if a == b {
		return 0, true
	}
	x, err1 := strconv.ParseFloat(strings.Replace(a, "−", "-", 1), 64)
	y, err2 := strconv.ParseFloat(strings.Replace(b, "−", "-", 1), 64)
	if err1 != nil || err2 != nil {
		return math.Inf(1), false
	}
	if x == y {
		return 0, true
	}
	share = math.Abs(x-y) / math.Max(math.Abs(x), math.Abs(y))
	return share, share <= tolerance
}

func asPercent(share float64) string {
	return strconv.FormatFloat(share*100, 'g', 2, 64) + " %"
}

// apartAround shows a long line only near the place where it changes.
func apartAround(old, new string) string {
	a, b := []rune(strings.TrimSpace(old)), []rune(strings.TrimSpace(new))
	same := 0
	for same < len(a) && same < len(b) && a[same] == b[same] {
		same++
	}
	if len(a) <= 60 && len(b) <= 60 || same < 25 {
		return apart(string(a), string(b))
	}
	from := same - 20
	return apart("…"+string(a[from:]), "…"+string(b[from:]))
}
