package session

import (
	"strings"
	"testing"
)

// A map would tell 1 t from 1000 kg, which are equal.
func TestQuantitiesAreNoKeys(t *testing.T) {
	const want = "a quantity cannot be the key of a map"
	for _, cell := range []string{
		"m := map[any]int{}\nm[1`t`]++",
		"m := map[any]int{}\nn := m[1`t`]",
		"m := map[any]int{1`t`: 3}",
		"func count[K comparable](xs ...K) int {\n\tm := map[K]int{}\n\tfor _, x := range xs {\n\t\tm[x]++\n\t}\n\treturn len(m)\n}\ncount(1`t`, 1000`kg`)",
		"func count[K comparable](x K) int { return len(map[[2]K]int{}) }\ncount(1`t`)",
	} {
		s := New()
		if said := tell(t, s, cell)[0]; !strings.Contains(said, want) {
			t.Errorf("%s\nsaid %s", cell, said)
		}
		s.Close()
	}
	s := New()
	defer s.Close()
	if said := tell(t, s, "m := map[any]int{\"a\": 1, 2: 3, 2.5: 1}\nk := map[string]quantity.Quantity{\"a\": 3`t`}\nlen(m) + len(k)")[0]; said != "=> 4" {
		t.Errorf("said %s", said)
	}
}
