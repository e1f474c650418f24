package bound_test

import (
	"fmt"

	"cobber/stdlib/bound"
)

// A session of two names, as a program that runs cells would attach one.
type session struct{ names []bound.Name }

func (s *session) Names() []bound.Name { return s.names }

func (s *session) Forget(names []string) error {
	for _, name := range names {
		if len(s.names) == 0 || s.names[0].Name != name {
			return fmt.Errorf("%s is not bound", name)
		}
		s.names = s.names[1:]
	}
	return nil
}

func (s *session) Stale() []bound.StaleCell {
	return []bound.StaleCell{{Cell: "cell 3", Code: "feed * 2", Why: "feed was changed by cell 4"}}
}

// In a program without a session nothing is bound; with one, its names are told and forgotten.
func ExampleAttach() {
	fmt.Println(len(bound.Names()), bound.Forget("feed") == bound.ErrNoSession)
	detach := bound.Attach(&session{[]bound.Name{{Name: "feed", Kind: "variable"}, {Name: "grade", Kind: "variable"}}})
	defer detach()
	fmt.Println(bound.Stale()[0].Cell, "is out of date")
	if err := bound.Forget("feed"); err != nil {
		fmt.Println(err)
	}
	names := bound.Names()
	fmt.Println(len(names), names[0].Name, names.Table().Rows())
	// Output:
	// 0 true
	// cell 3 is out of date
	// 1 grade 1
}
