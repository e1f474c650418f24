package rewrite

import (
	"go/ast"
	"go/types"

	"cobber/kernel/session/check"
	"cobber/kernel/session/parse"
	"cobber/stdlib/quantity"
)

// Options is what only the running session knows.
type Options struct {
	// Dimension returns the dimension of the value that a session variable of
	// quantity type has at present. It may be nil.
	Dimension func(name string) (quantity.Dimension, bool)
	// Unit returns the unit that value is shown in. It may be nil.
	Unit func(name string) string
	// Prepare may change a cell's tree before it is checked. It may be nil.
	Prepare func(*check.Tree)
	// Finish may add calls of hooks to a cell in which nothing is wrong, and
	// tells whether it did. It may be nil.
	Finish func(*check.Round) bool
}

// maxRounds bounds the rounds of checking. Every round but the last changes
// the tree; a cell that needs more is a fault of ours.
const maxRounds = 40

// Cell checks a cell and returns its program. The error is a diag.List.
func Cell(state *check.State, cell *parse.Cell, options Options) (*check.Program, error) {
	tree := check.Assemble(state, cell)
	if options.Prepare != nil {
		options.Prepare(tree)
	}
	round := settle(state, tree)
	refuseQuantities(round)
	refuseUnsafe(round)
	faults := round.Faults()
	if len(faults) == 0 {
		checkUnitTexts(round)
		checkDimensions(round, options)
		faults = round.Faults()
	}
	if len(faults) > 0 {
		return nil, faults
	}
	changed := nameInputs(round)
	if options.Finish != nil {
		changed = options.Finish(round) || changed
	}
	if changed {
		round = check.Check(state, round.Tree)
		if faults := round.Faults(); len(faults) > 0 {
			return nil, faults
		}
	}
	return round.Program(), nil
}

// settle checks the tree until nothing in it is left to change.
func settle(state *check.State, tree *check.Tree) *check.Round {
	for n := 0; ; n++ {
		round := check.Check(state, tree)
		if n == maxRounds {
			tree.Fault(check.Mismatch, tree.File.Pos(), 1, "the cell is too deep for the checker", "Split it into smaller cells.")
			return round
		}
		if !improve(round) {
			return round
		}
	}
}

// improve changes the tree where a further round is wanted.
func improve(r *check.Round) bool {
	changed := acceptQuantities(r)
	changed = wrapNumbers(r) || changed
	changed = renameEarly(r) || changed
	changed = keyLiterals(r) || changed
	return fixResults(r) || changed
}

// fixResults lays the file out anew if the last expression has not as many
// values as was guessed.
func fixResults(r *check.Round) bool {
	final := r.Tree.Cell.Final
	if final == nil || r.Tree.Results() == 0 {
		return false
	}
	tv, ok := r.Info.Types[final]
	if !ok {
		return false
	}
	n := 1
	if tuple, isTuple := tv.Type.(*types.Tuple); isTuple {
		n = tuple.Len()
		if _, isCall := ast.Unparen(final).(*ast.CallExpr); !isCall {
			n = 1 // a comma-ok form may have two values, and has one here
		}
	} else if tv.IsVoid() {
		n = 0
	}
	if n == r.Tree.Results() {
		return false
	}
	r.Tree.SetResults(n)
	return true
}
