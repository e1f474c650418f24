package claims_test

import (
	"fmt"

	"cobber/stdlib/claims"
	"cobber/stdlib/quantity"
)

// A leaflet, invented, says what a plant for iron ore makes.
func Example() {
	leaflet := claims.New("an invented leaflet")
	for _, figure := range [][3]string{
		{"feed", "250 long tons per day", "p. 1"},
		{"concentrate", "95 long tons per day", "p. 1"},
		{"feed grade", "31.0 per cent", "p. 2"},
		{"concentrate grade", "71.5 per cent", "p. 2"},
	} {
		if err := leaflet.Read(figure[0], figure[1], figure[2]); err != nil {
			fmt.Println(err)
			return
		}
	}
	if _, err := leaflet.Purity("concentrate grade", "Fe", "hematite"); err != nil {
		fmt.Println(err)
	}
	in := []claims.Carried{{Flow: "feed", Grade: "feed grade"}}
	out := []claims.Carried{{Flow: "concentrate", Grade: "concentrate grade"}}
	if _, err := leaflet.Conserved("iron", in, out); err != nil {
		fmt.Println(err)
	}
	if _, err := leaflet.Against("feed", quantity.Of(10.6, "t/h"), "belt scale", quantity.Of(1, "%")); err != nil {
		fmt.Println(err)
	}
	for _, v := range leaflet.Verdicts() {
		fmt.Println(v)
	}
	// Output:
	// concentrate grade impossible: ratio 1.02; the most it can be is 69.9 %
	// concentrate possible: ratio 0.876; 67.9 lt/d out, 77.5 lt/d in
	// feed agrees: ratio 0.998; 10.5 t/h to 10.7 t/h would agree
}
