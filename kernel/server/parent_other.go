//go:build !windows

package server

import (
	"context"
	"os"
	"time"
)

// awaitParentsEnd waits until the process that started this one is gone, and
// says so; it gives false when ctx ends first. A kernel would otherwise
// outlive a crashed front end, unseen.
func awaitParentsEnd(ctx context.Context) bool {
	parent := os.Getppid()
	if parent <= 1 {
		// Started by the first process of a machine or container: it is never gone.
		<-ctx.Done()
		return false
	}
	ticker := time.NewTicker(time.Second)
	defer ticker.Stop()
	for {
		select {
		case <-ctx.Done():
			return false
		case <-ticker.C:
			if os.Getppid() != parent {
				return true
			}
		}
	}
}
