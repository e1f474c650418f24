package session

import (
	"context"
	"errors"
	"runtime/debug"
	"strings"
	"testing"
	"time"

	"cobber/kernel/session/run"
	"cobber/kernel/source"
)

// TestNothingEndsTheProcess runs cells that in a compiled program are fatal errors, or would end the
// process in another way: each must fail by itself, and the session must go on. A case that is not
// held ends this test's own process, with its name in the trace.
func TestNothingEndsTheProcess(t *testing.T) {
	if testing.Short() {
		t.Skip("running out of stack and memory takes half a minute: not in -short runs")
	}
	usual := debug.SetMemoryLimit(-1)
	defer debug.SetMemoryLimit(usual)
	for _, c := range []struct{ name, cell, says string }{
		{"exit", `import "os"` + "\n" + `os.Exit(3)`, "os.Exit ended the cell with code 3"},
		{"exit in a goroutine", "import \"os\"\ngo os.Exit(4)\nselect {}", "os.Exit ended the cell with code 4"},
		{"log.Fatal", "import \"log\"\nlog.Fatal(\"no feed\")", "log.Fatal ended the cell with code 1"},
		{"logger's Fatal", "import (\"log\"; \"os\")\nl := log.New(os.Stderr, \"\", 0)\nl.Fatalf(\"%d\", 1)", "Fatalf ended the cell with code 1"},
		{"flags", "import \"flag\"\nf := flag.NewFlagSet(\"a\", flag.ExitOnError)\nf.Parse([]string{\"-b\"})", "flag.Parse ended the cell with code 2"},
		{"flags under defer", "import \"flag\"\nfunc f() { defer flag.NewFlagSet(\"a\", flag.ExitOnError).Parse([]string{\"-b\"}) }\nf()", "flag.Parse ended the cell with code 2"},
		{"goexit", "import \"runtime\"\nruntime.Goexit()", "runtime.Goexit ended the cell"},
		{"testing.Main", "import \"testing\"\ntesting.Main(nil, nil, nil, nil)", "testing.Main would end the session"},

		{"unlock", "import \"sync\"\nvar m sync.Mutex\nm.Unlock()", "fatal error: sync: unlock of unlocked mutex"},
		{"unlock twice", "import \"sync\"\nvar m sync.Mutex\nm.Lock()\ndefer m.Unlock()\nm.Unlock()\nm.Unlock()", "fatal error: sync: unlock of unlocked mutex"},
		{"unlock, recovered", "import \"sync\"\nvar m sync.Mutex\nfunc f() { defer func() { recover() }(); m.Unlock() }\nf()", "fatal error: sync: unlock of unlocked mutex"},
		{"unlock a locker", "import \"sync\"\nvar l sync.Locker = &sync.Mutex{}\nl.Unlock()", "fatal error: sync: unlock of unlocked mutex"},
		{"unlock a locker later", "import \"sync\"\nfunc f() { var l sync.Locker = &sync.Mutex{}; defer l.Unlock() }\nf()", "fatal error: sync: unlock of unlocked mutex"},
		{"unlock a method value", "import \"sync\"\nvar m sync.Mutex\nf := m.Unlock\nf()", "fatal error: sync: unlock of unlocked mutex"},
		{"unlock an embedded", "import \"sync\"\ntype T struct{ sync.Mutex }\nvar t T\nt.Unlock()", "fatal error: sync: unlock of unlocked mutex"},
		{"unlock for writing", "import \"sync\"\nvar m sync.RWMutex\nm.RLock()\nm.Unlock()", "fatal error: sync: Unlock of unlocked RWMutex"},
		{"unlock for reading", "import \"sync\"\nvar m sync.RWMutex\nm.RUnlock()", "fatal error: sync: RUnlock of unlocked RWMutex"},
		{"unlock for reading, written", "import \"sync\"\nvar m sync.RWMutex\nm.Lock()\nm.RUnlock()", "fatal error: sync: RUnlock of unlocked RWMutex"},
		{"unlock a read locker", "import \"sync\"\nvar m sync.RWMutex\nm.RLocker().Unlock()", "fatal error: sync: RUnlock of unlocked RWMutex"},
		{"wait without a lock", "import \"sync\"\nsync.NewCond(&sync.Mutex{}).Wait()", "fatal error: sync: unlock of unlocked mutex"},
		{"negative counter", "import \"sync\"\nvar w sync.WaitGroup\nw.Done()", "sync: negative WaitGroup counter"},

		{"concurrent map writes", "m := map[int]int{}\nfor range 4 { go func() { for { m[1]++ } }() }\nfor { m[2]++ }", "fatal error: concurrent map"},
		{"concurrent iteration", "type k struct{ a string }\nm := map[k]int{{\"x\"}: 1}\ngo func() { for { m[k{\"y\"}]++; delete(m, k{\"y\"}) } }()\nfor { for range m { } }", "fatal error: concurrent map"},
		{"concurrent read", "m := map[string][]int{}\ngo func() { for { m[\"a\"] = nil; clear(m) } }()\nfor { _ = m[\"a\"] }", "fatal error: concurrent map"},

		{"recursion", "func f(n int) int { return f(n+1) + 1 }\nf(0)", "stack overflow"},
		{"recursion with defer", "func f(n int) { defer func() {}(); f(n + 1) }\nf(0)", "stack overflow"},
		{"recursion of methods", "type I interface{ f() }\ntype T struct{ a, b, c int }\nfunc (t T) f() { I(t).f() }\nT{}.f()", "stack overflow"},
		{"recursion through sort", "import \"sort\"\nfunc f() { s := []int{2, 1}; sort.Slice(s, func(i, j int) bool { f(); return true }) }\nf()", "stack overflow"},
		{"recursion between entries", "import \"sort\"\nfunc deep(n int) { if n > 0 { deep(n - 1); return }; f() }\nfunc f() { s := []int{2, 1}; sort.Slice(s, func(i, j int) bool { deep(3000); return true }) }\nf()", "stack overflow"},
		{"recursion in a goroutine", "func f(n int) int { return f(n+1) + 1 }\ndone := make(chan bool)\ngo func() { defer close(done); f(0) }()\n<-done", ""},
		{"recursive String", "import \"fmt\"\ntype T struct{}\nfunc (t T) String() string { return fmt.Sprint(t) }\nfmt.Println(T{})", ""},
		{"recursive Error", "type T struct{}\nfunc (t T) Error() string { var e error = t; return e.Error() }\nT{}.Error()", "stack overflow"},
		{"recursive MarshalJSON", "import \"encoding/json\"\ntype T struct{}\nfunc (t T) MarshalJSON() ([]byte, error) { return json.Marshal(t) }\n_, err := json.Marshal(T{})\nerr", "stack overflow"},

		{"make", "s := make([]int, 1<<40)", "out of memory: 8.8 TB more are wanted"},
		{"make of bytes", "s := make([]byte, 0, 1<<34)", "out of memory"},
		{"make of a channel", "c := make(chan [1024]int, 1<<30)", "out of memory"},
		{"array", "var a [1 << 33]int", "too large"},
		{"array beyond memory", "var a [1 << 50]int", "larger than the address space"},
		{"new array", "func f() *[1 << 33]int { return new([1 << 33]int) }\np := f()", "out of memory"},
		{"append", "s := make([]int, 1<<20)\nfor { s = append(s, s...) }", "out of memory"},
		{"append of text", "var s []byte\nfor { s = append(s, \"feed, concentrate and tailings of the first bank of cells\"...) }", "out of memory"},
		{"text", "s := \"x\"\nfor { s += s }", "out of memory"},
		{"many small values", "type T struct{ next *T; a [1000]int }\nvar t *T\nfor { t = &T{next: t} }", "out of memory"},
		{"map", "m := map[int][100]int{}\nfor i := 0; ; i++ { m[i] = [100]int{} }", "out of memory"},
		{"goroutines", "for { go func() { select {} }() }", "out of memory"},
		{"Repeat", "import \"strings\"\ns := strings.Repeat(\"ore\", 1<<40)", "out of memory"},
		{"Repeat as a value", "import \"strings\"\nf := strings.Repeat\ns := f(\"ore\", 1<<40)", "out of memory"},
		{"Repeat of slices", "import \"slices\"\ns := slices.Repeat([]int{1, 2}, 1<<40)", "out of memory"},
		{"Grow", "import \"strings\"\nvar b strings.Builder\nb.Grow(1 << 42)", "out of memory"},
		{"big shift", "import \"math/big\"\nx := new(big.Int).Lsh(big.NewInt(1), 1<<43)", "out of memory"},
		{"big power", "import \"math/big\"\nx := new(big.Int).Exp(big.NewInt(10), big.NewInt(1<<42), nil)", "out of memory"},

		{"nil function", "var f func()\nf()", "nil pointer dereference"},
		{"go of nil", "var f func()\ngo f()\nimport \"time\"\ntime.Sleep(10 * time.Millisecond)", ""},
		{"AfterFunc of nil", "import \"time\"\ntime.AfterFunc(0, nil)", "nil pointer dereference"},
		{"close of nil", "var c chan int\nclose(c)", "close of nil channel"},
		{"panic in AfterFunc", "import \"time\"\ntime.AfterFunc(0, func() { panic(1) })\ntime.Sleep(20 * time.Millisecond)", ""},
		{"panic in WaitGroup.Go", "import \"sync\"\nvar w sync.WaitGroup\nw.Go(func() { panic(1) })\nw.Wait()", ""},
		{"panic in a writer of exec", "import \"os/exec\"\ntype w struct{}\nfunc (w) Write([]byte) (int, error) { panic(\"full\") }\nc := exec.Command(\"echo\", \"a\")\nc.Stdout = w{}\nerr := c.Run()\nerr", ""},
		{"panic in a handler", "import (\"net/http\"; \"net/http/httptest\")\ns := httptest.NewServer(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { panic(1) }))\n_, err := http.Get(s.URL)\ns.Close()\nerr != nil", ""},
		{"finalizer", "import \"runtime\"\nx := new(int)\nruntime.SetFinalizer(x, func(*int) {})", "a finalizer cannot be set in a cell"},
		{"breakpoint", "import \"runtime\"\nruntime.Breakpoint()", "runtime.Breakpoint ended the cell with code 2"},
		{"limit of stacks", "import \"runtime/debug\"\ndebug.SetMaxStack(1)", "the stack of cells has a limit of its own"},
		{"limit of threads", "import \"runtime/debug\"\ndebug.SetMaxThreads(1)", "a limit on threads could end the session"},
		{"memory past its type", "import \"reflect\"\nx := 1\nv := reflect.ValueOf(&x)\nreflect.NewAt(reflect.TypeFor[[100]string](), v.UnsafePointer())", "reaches memory past its type"},
	} {
		t.Run(c.name, func(t *testing.T) {
			debug.SetMemoryLimit(usual)
			if strings.Contains(c.says, "memory") {
				debug.SetMemoryLimit(512 << 20)
			}
			s := New()
			defer s.Close()
			ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
			defer cancel()
			o := s.Run(ctx, source.Cell{Name: "cell 1", Count: 1, Text: c.cell}, &page{})
			switch {
			case ctx.Err() != nil:
				t.Errorf("did not end: %v", o.Err)
			case c.says == "" && o.Err != nil:
				t.Errorf("failed: %v", o.Err)
			case c.says != "" && (o.Err == nil || !strings.Contains(o.Err.Error(), c.says)):
				t.Errorf("ended with %v, want %q", o.Err, c.says)
			}
			if said := tell(t, s, "40 + 2"); said[0] != "=> 42" {
				t.Errorf("afterwards the session says %q", said)
			}
		})
	}
}

// TestDeadlocks interrupts cells that wait for what never comes.
func TestDeadlocks(t *testing.T) {
	for _, c := range []struct {
		name, cell string
		left       bool // in a compiled call that an interrupt does not end
	}{
		{name: "select", cell: "select {}"},
		{name: "channel", cell: "c := make(chan int)\n<-c"},
		{name: "nil channel", cell: "var c chan int\nc <- 1"},
		{name: "mutex", cell: "import \"sync\"\nvar m sync.Mutex\nm.Lock()\nm.Lock()"},
		{name: "locker", cell: "import \"sync\"\nvar l sync.Locker = &sync.Mutex{}\nl.Lock()\nl.Lock()"},
		{name: "mutex in compiled code", cell: "import \"sync\"\nvar m sync.Once\nm.Do(func() { m.Do(func() {}) })", left: true},
		{name: "group", cell: "import \"sync\"\nvar w sync.WaitGroup\nw.Add(1)\nw.Wait()"},
		{name: "condition", cell: "import \"sync\"\nvar m sync.Mutex\nc := sync.NewCond(&m)\nm.Lock()\nc.Wait()"},
		{name: "pipe", cell: "import \"io\"\nr, _ := io.Pipe()\nio.ReadAll(r)", left: true},
		{name: "after Goexit", cell: "import \"runtime\"\ngo func() { select {} }()\nruntime.Goexit()"},
		{name: "loop", cell: "for {\n}"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.left && underRace {
				t.Skip("what a cell that was left has bound is read without its goroutine's word")
			}
			s := New()
			defer s.Close()
			ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
			defer cancel()
			o := s.Run(ctx, source.Cell{Name: "cell 1", Count: 1, Text: c.cell}, &page{})
			if !errors.Is(o.Err, run.ErrInterrupted) {
				t.Errorf("ended with %v", o.Err)
			}
			if said := tell(t, s, "40 + 2"); said[0] != "=> 42" {
				t.Errorf("afterwards the session says %q", said)
			}
		})
	}
}
