//go:build race

package session

const underRace = true
