package notebook

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"regexp"
)

var validID = regexp.MustCompile(`^[a-zA-Z0-9_-]{1,64}$`)

// nameCells gives an identity to each cell that has none that format 4.5
// permits, or one that an earlier cell has. It is made from the content, not
// drawn at random: the same old file gives the same new one.
func nameCells(cells []Cell) {
	taken := make(map[string]bool, len(cells))
	for i := range cells {
		if c := &cells[i]; validID.MatchString(c.ID) && !taken[c.ID] {
			taken[c.ID] = true
		} else {
			c.ID = ""
		}
	}
	for i := range cells {
		c := &cells[i]
		for attempt := 0; c.ID == ""; attempt++ {
			sum := sha256.Sum256(fmt.Appendf(nil, "%d %d %s\n%s", i, attempt, c.Kind, c.Source))
			if id := hex.EncodeToString(sum[:4]); !taken[id] {
				c.ID, taken[id] = id, true
			}
		}
	}
}
