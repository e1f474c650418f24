package run

import (
	"fmt"
	"go/token"
)

// Refused is what the engine cannot do, said before the cell runs, with what to write instead.
type Refused struct {
	Pos     token.Pos
	Reason  string
	Instead string
}

func (r *Refused) Error() string {
	if r.Instead == "" {
		return r.Reason
	}
	return r.Reason + "; " + r.Instead
}

// refuse stops a compilation; [Machine.Compile] turns it into an error.
func refuse(pos token.Pos, instead, format string, args ...any) {
	panic(&Refused{Pos: pos, Reason: fmt.Sprintf(format, args...), Instead: instead})
}
