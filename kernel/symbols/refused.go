package symbols

import "maps"

// refused are the generic names of compiled packages that have neither compiled
// code, which exists only for the types Go's own packages use them with, nor a
// text of ours.
var refused = map[string]string{
	"database/sql.Null":            "use sql.NullString, sql.NullFloat64 and their kin",
	"hash/maphash.Comparable":      "use a map, or maphash.String on a text made of the value",
	"hash/maphash.WriteComparable": "write the parts of the value to the hash one by one",
	"runtime.AddCleanup":           "call the cleaning function yourself, with defer",
	"sync/atomic.Pointer":          "use atomic.Value, or a sync.Mutex beside the pointer",
}

// Refused gives the names that a cell can import but not use, as "path.Name",
// each with what to write instead.
func Refused() map[string]string { return maps.Clone(refused) }
