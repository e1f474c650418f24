package session

// Completion is what may stand between Start and End, in code points.
type Completion struct {
	Matches    []Match
	Start, End int
}

// Match is one possible completion. Type is what front ends draw an icon for.
type Match struct{ Text, Type, Signature string }

// Inspection is what is known about a name.
type Inspection struct{ Text, Markdown string }

// Complete lists what may stand at the cursor, counted in code points.
func (s *Session) Complete(text string, cursor int) Completion {
	return Completion{Start: cursor, End: cursor}
}

// Inspect describes the name at the cursor, counted in code points.
func (s *Session) Inspect(text string, cursor int) (Inspection, bool) { return Inspection{}, false }
