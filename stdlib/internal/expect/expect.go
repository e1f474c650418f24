// Package expect holds results to what they should be, for the tests of the
// library's packages: to a number within a relative tolerance, to an error that
// says the right thing.
//
// In go what a method gave and what was published; out comes a failed test. It
// is for tests only, and computes nothing.
package expect

import (
	"math"
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

// Value is the number of a result in a unit; an error ends the test.
func Value(t testing.TB, q quantity.Quantity, err error, unit string) float64 {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	x, err := q.Value(unit)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// Near fails the test unless got lies within a relative tolerance of want.
func Near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: %.9g, want %.9g (relative tolerance %g)", what, got, want, tolerance)
	}
}

// Refused fails the test unless there is an error with a text in it.
func Refused(t testing.TB, name string, err error, want string) {
	t.Helper()
	if err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("%s: error %v, want one with %q", name, err, want)
	}
}
