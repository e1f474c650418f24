// Package show holds the generic functions of cobber's package show, for the
// executor.
package show

import "cobber/stdlib/show"

// Must is value, or the end of the cell if err is an error.
func Must[T any](value T, err error) T {
	show.Check(err)
	return value
}
