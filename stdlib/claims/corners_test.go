package claims

import (
	"fmt"
	"testing"
)

// Ten products that are each known to half a ton an hour may sum to five more or
// less: an excess of 2 t/h breaks no bound, one of 6 t/h does.
func TestRoundingsOfManyFiguresAddUp(t *testing.T) {
	for feed, want := range map[float64]Kind{98: Possible, 94: Impossible} {
		entries := []Entry{{Name: "feed", Value: of(feed, "t/h"), Rounding: of(0.5, "t/h")}}
		var out []Carried
		for i := range 10 {
			name := fmt.Sprintf("product %d", i+1)
			entries = append(entries, Entry{Name: name, Value: of(10, "t/h"), Rounding: of(0.5, "t/h")})
			out = append(out, Carried{Flow: name})
		}
		if v := verdict(t)(ledger(t, entries...).Conserved("solids", []Carried{{Flow: "feed"}}, out)); v.Kind != want {
			t.Errorf("of %v t/h: %v", feed, v)
		}
	}
}
