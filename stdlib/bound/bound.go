package bound

import (
	"errors"
	"slices"
	"sync"
)

// Name is what one name of the session stands for.
type Name struct {
	Name string
	Kind string // "variable", "function", "type", "constant" or "import"
	Type string // as Go writes it; of an import its path
	// Bytes is how much memory the value of a variable takes: itself, and what
	// it refers to, one reference deep. Texts and the rows of tables of numbers
	// count in full; entries of maps without what they refer to.
	Bytes int64
	Cell  string // the cell that bound it last, as "cell 3"; empty for an import
}

// ErrNoSession is the error of Forget in a program without a session.
var ErrNoSession = errors.New("there is no session whose names could be forgotten: this program has variables of its own")

// Session is what answers. A notebook kernel attaches one while a cell runs.
type Session interface {
	Names() []Name // sorted by name
	Forget(names []string) error
	Stale() []StaleCell // in the order in which they ran
}

// Names lists what the cells before the running one have bound, sorted by name.
// In a program without a session it is empty.
func Names() List {
	if s := attached(); s != nil {
		return s.Names()
	}
	return nil
}

// Forget takes names out of the session: they are undefined for the cells that
// follow, large values are given back, and a package of the library whose name
// was hidden is found again. Functions that use a forgotten variable keep it,
// and the running cell goes on as it was written.
//
// Errors: a name that is not bound, in which case nothing is forgotten;
// ErrNoSession in a program without a session.
func Forget(names ...string) error {
	s := attached()
	if s == nil {
		return ErrNoSession
	}
	return s.Forget(names)
}

// Attach lets a session answer from now on, until detach is called. The newest
// answers alone.
func Attach(s Session) (detach func()) {
	mine := &s
	sessions.Lock()
	defer sessions.Unlock()
	sessions.list = append(sessions.list, mine)
	return func() {
		sessions.Lock()
		defer sessions.Unlock()
		sessions.list = slices.DeleteFunc(sessions.list, func(s *Session) bool { return s == mine })
	}
}

var sessions struct {
	sync.Mutex
	list []*Session
}

func attached() Session {
	sessions.Lock()
	defer sessions.Unlock()
	if n := len(sessions.list); n > 0 {
		return *sessions.list[n-1]
	}
	return nil
}
