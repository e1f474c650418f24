package quantity

import "sync"

// kelvinDifference is the kelvin of a temperature difference. It is written as
// the kelvin is, but cannot be shown as a reading: 5 K of difference is not
// -268.15 °C.
var kelvinDifference = sync.OnceValue(func() *unit {
	r := known()
	r.Lock()
	a := *r.atoms["K"]
	a.isDelta = true
	r.nextID++
	a.id = r.nextID
	r.Unlock()
	return intern([]term{{&a, whole(1)}})
})

// differenceUnit is the unit of the difference of two readings in u.
func differenceUnit(u *unit) *unit {
	if u.size.isOne() {
		return kelvinDifference()
	}
	return intern([]term{{u.terms[0].atom.difference, whole(1)}})
}
