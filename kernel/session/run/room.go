package run

import (
	"fmt"
	"go/token"
	"math"
	"os"
	"reflect"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"strconv"
	"strings"
	"sync"
	"time"
)

// The Go runtime ends the process when memory runs out. What cells hold is therefore bounded: a large
// allocation is looked at before it is made, and all of them together by a watch beside the run.

const (
	large      = 64 << 20 // bytes from which an allocation is looked at
	watchEvery = 50 * time.Millisecond
	unknown    = 8 << 30 // the limit where the machine does not tell what it has
)

// memoryLimit is GOMEMLIMIT where that is set, else three quarters of the memory that was there when
// the process began.
func memoryLimit() int64 {
	if set := debug.SetMemoryLimit(-1); set != math.MaxInt64 {
		return set
	}
	return machineLimit()
}

var machineLimit = sync.OnceValue(func() int64 {
	limit := int64(unknown)
	if n, ok := numberAfter("/proc/meminfo", "MemAvailable:"); ok {
		limit = n << 10 / 4 * 3
	}
	if n, ok := numberAfter("/sys/fs/cgroup/memory.max", ""); ok {
		limit = min(limit, n/4*3)
	}
	return limit
})

// numberAfter reads the number that follows a word in a file of Linux.
func numberAfter(file, word string) (int64, bool) {
	text, err := os.ReadFile(file)
	if err != nil {
		return 0, false
	}
	_, rest, found := strings.Cut(string(text), word)
	fields := strings.Fields(rest)
	if !found || len(fields) == 0 {
		return 0, false
	}
	n, err := strconv.ParseInt(fields[0], 10, 64)
	return n, err == nil
}

// held is how much memory the process uses for values and stacks, garbage included.
func held() int64 {
	samples := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}, {Name: "/memory/classes/heap/stacks:bytes"}}
	metrics.Read(samples)
	return int64(samples[0].Value.Uint64() + samples[1].Value.Uint64())
}

// exceeds reports whether so many bytes more would be too much, garbage aside.
func exceeds(more int64) bool {
	limit := memoryLimit()
	if more > limit {
		return true
	}
	if held()+more <= limit {
		return false
	}
	runtime.GC()
	return held()+more > limit
}

// room panics if an allocation of n elements is too large.
func room(n, size int) {
	if size == 0 || n < large/size {
		return
	}
	if n > math.MaxInt64/2/size || exceeds(int64(n)*int64(size)) {
		panic(runtimeError(fmt.Sprintf("out of memory: %s more are wanted, and cells may hold %s in all",
			inBytes(float64(n)*float64(size)), inBytes(float64(memoryLimit())))))
	}
}

// roomFor refuses a variable or a frame that is too large.
func (m *Machine) roomFor(l reflect.Type, pos token.Pos) {
	if n := int64(l.Size()); n >= large && exceeds(n) {
		refuse(pos, "make it smaller", "an array of %s is too large: cells may hold %s in all", inBytes(float64(n)), inBytes(float64(memoryLimit())))
	}
}

func inBytes(n float64) string {
	for _, u := range []struct {
		size float64
		name string
	}{{1e12, "TB"}, {1e9, "GB"}, {1e6, "MB"}} {
		if n >= u.size {
			return fmt.Sprintf("%.3g %s", n/u.size, u.name)
		}
	}
	return fmt.Sprintf("%.0f bytes", n)
}

// watch stops a run whose memory outgrows the limit bit by bit; end ends the watch.
func (r *Run) watch() (end func()) {
	var mu sync.Mutex
	var timer *time.Timer
	ended := false
	var look func()
	look = func() {
		if held() > memoryLimit() && exceeds(0) {
			r.full.Store(true)
			r.Stop()
			return
		}
		mu.Lock()
		defer mu.Unlock()
		if !ended {
			timer = time.AfterFunc(watchEvery, look)
		}
	}
	mu.Lock()
	timer = time.AfterFunc(watchEvery, look)
	mu.Unlock()
	return func() {
		mu.Lock()
		defer mu.Unlock()
		ended = true
		timer.Stop()
	}
}

func errFull() error {
	return &Failure{Kind: "runtime error", Message: "out of memory: cells hold " + inBytes(float64(held())) +
		", and may hold " + inBytes(float64(memoryLimit())) + "; set large variables to nil"}
}
