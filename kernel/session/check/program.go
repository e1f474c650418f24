package check

import (
	"go/ast"
	"go/token"
	"go/types"

	"cobber/kernel/session/parse"
)

// Program is a checked cell in plain Go, ready for go/ssa:
// CreatePackage(Package, Files, Info, false), and for Companion
// CreatePackage(Companion, nil, nil, false).
type Program struct {
	Cell    *parse.Cell
	Package *types.Package
	Files   []*ast.File
	Info    *types.Info
	Fset    *token.FileSet

	// Companion holds hidden variables that no syntax declares: Progress, and
	// the earlier variables that a cell both reads and defines anew.
	Companion *types.Package
	Imported  []*types.Package // packages the cell mentions, session cells not among them

	Entry string // the function to run; empty for a pasted program without main
	// RunInit asks for the package's init before Entry: a pasted program has
	// initial values, and any cell may declare func init.
	RunInit bool

	Results  []*types.Var // hold the value of the last expression after Entry; none if there is nothing to show
	Progress *types.Var   // int: the number of the statement that is running, Statements at the end
	// Statements is how many statements the entry function has.
	Statements int

	Defines map[string]types.Object // what to commit: variables, functions, types, constants
	Imports map[string]string       // name -> path
	Fresh   []Fresh                 // variables that statements define, in their order

	// Reuse says which variables share the memory of an earlier one: their name
	// was defined before with the identical type.
	Reuse map[*types.Var]*types.Var
	// Replaces says which functions take the place of an earlier one of the
	// identical signature: its callers are to call the new one.
	Replaces map[*types.Func]*types.Func

	docs     map[string]string
	bodies   map[string]*Body
	steady   map[types.Object]bool
	assigned map[string]bool // earlier variables that this cell assigns
	dots     []*types.Package
}

// Fresh is a variable that a statement of the cell defines.
type Fresh struct {
	Var       *types.Var
	Statement int
}

// Names of things that a tree mentions and no cell can: the dot is no letter.
const (
	entryName    = "cell·"
	progressName = "progress·"
	resultName   = "result·"
	zeroName     = "zero·"
	// QuantityType names the type of quantities in trees.
	QuantityType = "Quantity·"
	// Earlier is put behind a name to mean what the name meant before the cell.
	Earlier = "·earlier"
)
