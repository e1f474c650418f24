//go:build !race

package gotests

const underRace = false
