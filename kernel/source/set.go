package source

import (
	"go/token"
	"sync"
)

// Room is the number of positions left free before every cell, so that a
// piece of a cell can be parsed behind a short prefix and still get the
// positions it has in the cell.
const Room = 64

// Set holds the cells of a session in one token.FileSet: every token.Pos of a
// tree, of types and of built functions leads back to a place in a cell. A Set
// may be used by several goroutines.
type Set struct {
	Fset *token.FileSet

	mu    sync.Mutex
	cells map[*token.File]Cell
}

// NewSet returns an empty set.
func NewSet() *Set {
	return &Set{Fset: token.NewFileSet(), cells: make(map[*token.File]Cell)}
}

// Add gives the cell a file whose offsets are those of the cell's text.
func (s *Set) Add(cell Cell) *token.File {
	s.mu.Lock()
	defer s.mu.Unlock()
	file := s.Fset.AddFile(cell.Name, s.Fset.Base()+Room, len(cell.Text))
	file.SetLinesForContent([]byte(cell.Text))
	s.cells[file] = cell
	return file
}

// Remove forgets a cell that did not check, so that its text is not kept.
func (s *Set) Remove(file *token.File) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.cells, file)
	s.Fset.RemoveFile(file)
}

// Cell returns the cell that holds pos, and the byte offset of pos in it.
func (s *Set) Cell(pos token.Pos) (cell Cell, offset int, ok bool) {
	file := s.Fset.File(pos)
	if file == nil {
		return Cell{}, 0, false
	}
	s.mu.Lock()
	cell, ok = s.cells[file]
	s.mu.Unlock()
	return cell, file.Offset(pos), ok
}

// Position returns the place of pos; ok is false if pos lies in no cell.
func (s *Set) Position(pos token.Pos) (position Position, ok bool) {
	cell, offset, ok := s.Cell(pos)
	if !ok {
		return Position{}, false
	}
	return cell.At(offset), true
}
