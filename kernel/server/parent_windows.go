package server

import (
	"context"
	"os"
)

// awaitParentsEnd waits until the process that started this one is gone, and
// says so; it gives false when ctx ends first. On Windows the number of the
// parent stays when it is gone, but its process can be waited for.
func awaitParentsEnd(ctx context.Context) bool {
	gone := make(chan bool, 1)
	go func() {
		parent, err := os.FindProcess(os.Getppid())
		if err != nil {
			gone <- false
			return
		}
		_, err = parent.Wait()
		gone <- err == nil
	}()
	select {
	case <-ctx.Done():
		return false
	case ended := <-gone:
		if !ended {
			<-ctx.Done()
		}
		return ended
	}
}
