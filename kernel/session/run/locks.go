package run

import (
	"sync"
	"time"
)

// What waits is an intrinsic so that an interrupt ends the wait, and what unlocks is one because the Go
// runtime ends the process when a lock is released that nobody holds.

// fatal is what Go calls a fatal error: a program dies of it, a cell fails, and cannot recover.
type fatal string

func (e fatal) Error() string { return "fatal error: " + string(e) }
func (e fatal) RuntimeError() {}

// releasing keeps two goroutines from releasing one lock at once, so that looking and releasing are one.
var releasing sync.Mutex

func unlockMutex(m *sync.Mutex) {
	releasing.Lock()
	defer releasing.Unlock()
	if m.TryLock() {
		m.Unlock()
		panic(fatal("sync: unlock of unlocked mutex"))
	}
	m.Unlock()
}

// writers are the RWMutexes that cells hold for writing: from outside, one that is held cannot be told
// from one that is waited for.
var writers sync.Map // *sync.RWMutex -> bool

func lockForWriting(fp pointer, m *sync.RWMutex) {
	if !m.TryLock() {
		waitFor(fp, m.Lock, m.Unlock)
	}
	writers.Store(m, true)
}

func unlockWriter(m *sync.RWMutex) {
	releasing.Lock()
	defer releasing.Unlock()
	if m.TryRLock() {
		m.RUnlock()
		panic(fatal("sync: Unlock of unlocked RWMutex"))
	}
	writers.Delete(m)
	m.Unlock()
}

func lockForReading(fp pointer, m *sync.RWMutex) {
	if !m.TryRLock() {
		waitFor(fp, m.RLock, m.RUnlock)
	}
}

func unlockReader(m *sync.RWMutex) {
	releasing.Lock()
	defer releasing.Unlock()
	_, writing := writers.Load(m)
	free := m.TryLock()
	if free {
		m.Unlock()
	}
	if free || writing {
		panic(fatal("sync: RUnlock of unlocked RWMutex"))
	}
	m.RUnlock()
}

// waitCond is Cond.Wait. The lock is released and taken again by the condition itself, which must not
// find it released.
func waitCond(fp pointer, c *sync.Cond) {
	switch l := c.L.(type) {
	case *sync.Mutex:
		if l.TryLock() {
			l.Unlock()
			panic(fatal("sync: unlock of unlocked mutex"))
		}
	case *sync.RWMutex:
		if l.TryRLock() {
			l.RUnlock()
			panic(fatal("sync: Unlock of unlocked RWMutex"))
		}
	}
	waitFor(fp, c.Wait, c.L.Unlock)
}

// waitFor waits in a way that an interrupt ends; what the wait would have taken is given back.
func waitFor(fp pointer, wait, giveBack func()) {
	done := make(chan any, 1)
	go func() {
		defer func() { done <- recover() }()
		wait()
	}()
	select {
	case failed := <-done:
		if failed != nil {
			panic(failed)
		}
	case <-head(fp).g.run.wake:
		go func() {
			if <-done == nil {
				giveBack()
			}
		}()
		panic(ErrInterrupted)
	}
}

func sleep(fp pointer, d time.Duration) {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-timer.C:
	case <-head(fp).g.run.wake:
		panic(ErrInterrupted)
	}
}

func receiver[T any](do func(fp pointer, r T)) intrinsic {
	return func(fp pointer, a, _ []uintptr) { do(fp, *at[T](fp, a[0])) }
}

func init() {
	add(map[string]intrinsic{
		"time.Sleep": receiver(sleep),
		"(*sync.Mutex).Lock": receiver(func(fp pointer, m *sync.Mutex) {
			if !m.TryLock() {
				waitFor(fp, m.Lock, m.Unlock)
			}
		}),
		"(*sync.Mutex).Unlock":    receiver(func(_ pointer, m *sync.Mutex) { unlockMutex(m) }),
		"(*sync.RWMutex).Lock":    receiver(lockForWriting),
		"(*sync.RWMutex).Unlock":  receiver(func(_ pointer, m *sync.RWMutex) { unlockWriter(m) }),
		"(*sync.RWMutex).RUnlock": receiver(func(_ pointer, m *sync.RWMutex) { unlockReader(m) }),
		"(*sync.RWMutex).RLock":   receiver(lockForReading),
		// what RLocker gives is an RWMutex under another name
		"(*sync.rlocker).Lock":   receiver(lockForReading),
		"(*sync.rlocker).Unlock": receiver(func(_ pointer, m *sync.RWMutex) { unlockReader(m) }),
		"(*sync.RWMutex).TryLock": func(fp pointer, a, r []uintptr) {
			m := *at[*sync.RWMutex](fp, a[0])
			locked := m.TryLock()
			if locked {
				writers.Store(m, true)
			}
			*at[bool](fp, r[0]) = locked
		},
		"(*sync.WaitGroup).Wait": receiver(func(fp pointer, w *sync.WaitGroup) { waitFor(fp, w.Wait, func() {}) }),
		"(*sync.Cond).Wait":      receiver(waitCond),
	})
}
