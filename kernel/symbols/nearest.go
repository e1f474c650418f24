package symbols

import (
	"cmp"
	"path"
	"slices"
)

// nearestPaths gives up to three paths that may have been meant by wrong: those
// with the same last element first ("rand" for "math/rand"), then those that
// differ by few letters.
func nearestPaths(wrong string) []string {
	type candidate struct {
		path     string
		distance int
	}
	var found []candidate
	for _, known := range Packages() {
		distance := editDistance(wrong, known)
		if path.Base(known) == path.Base(wrong) {
			distance = min(distance, 1)
		}
		if distance <= max(2, len(wrong)/4) && distance < len(wrong) {
			found = append(found, candidate{known, distance})
		}
	}
	slices.SortStableFunc(found, func(a, b candidate) int { return cmp.Compare(a.distance, b.distance) })
	var paths []string
	for _, c := range found[:min(len(found), 3)] {
		paths = append(paths, c.path)
	}
	return paths
}

// editDistance counts the letters to insert, delete or replace to turn a into b.
func editDistance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			replaced := diagonal
			if a[i] != b[j] {
				replaced++
			}
			diagonal = row[j+1]
			row[j+1] = min(replaced, row[j]+1, diagonal+1)
		}
	}
	return row[len(b)]
}
