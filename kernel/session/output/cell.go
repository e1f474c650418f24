package output

import "os"

// Cell is the output of one cell.
type Cell struct {
	capture *Capture
	limit   *limit
}

// Cell sends what is printed from now on to a receiver, until the next Cell.
func (c *Capture) Cell(receiver Receiver) *Cell {
	c.Drain()
	cell := &Cell{c, newLimit(receiver)}
	shared.Lock()
	defer shared.Unlock()
	shared.current = cell
	return cell
}

// End waits until all that the cell printed has reached the receiver. What its goroutines print later
// still goes there.
func (c *Cell) End() {
	c.capture.Drain()
	c.limit.end()
}

// Own gives what takes the text of this cell's goroutines when another cell has begun; nil while what
// the process prints is this cell's, and where the cell has put another file for os.Stdout.
func (c *Cell) Own() func(name, text string) {
	shared.Lock()
	defer shared.Unlock()
	if shared.current == c || shared.streams[0] == nil || os.Stdout != shared.streams[0].writer {
		return nil
	}
	return c.limit.write
}

// Write prints as if the cell had.
func (c *Cell) Write(name, text string) {
	if own := c.Own(); own != nil {
		own(name, text)
		return
	}
	for _, s := range c.capture.streams {
		if s != nil && s.name == name {
			s.writer.WriteString(text)
		}
	}
}
