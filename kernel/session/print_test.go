package session

import (
	"context"
	"strings"
	"testing"
	"time"

	"cobber/kernel/source"
)

func TestGoroutinesPrintToTheirOwnCell(t *testing.T) {
	for _, c := range []struct{ name, print, want string }{
		{"Println", `fmt.Println("late", 1)`, "late 1\n"},
		{"Print", `fmt.Print("late", 1, "\n")`, "late1\n"},
		{"Printf", `fmt.Printf("%s %T\n", "late", stream{})`, "late main.stream\n"},
		{"a method that prints", `stream{}.tell()`, "tells\n"},
		{"results", `n, err := fmt.Println("four"); fmt.Println(n, err)`, "four\n5 <nil>\n"},
		{"log", `log.SetFlags(0); log.Print("late"); log.Printf("%d", 2)`, "late\n2\n"},
		{"Fprint", `fmt.Fprintln(os.Stdout, "late"); fmt.Fprintf(os.Stdout, "%d\n", 2); fmt.Fprint(os.Stderr, 3)`, "late\n2\n3"},
		{"a file", `os.Stdout.WriteString("late\n"); os.Stdout.Write([]byte("two"))`, "late\ntwo"},
		{"io", `io.WriteString(os.Stdout, "late")`, "late"},
		{"a logger", `log.New(os.Stderr, "l ", log.Lshortfile).Print("late")`, "l cell 1:"},
		{"println", `println("late", 1)`, "late 1\n"},
		{"deferred", `func() { defer fmt.Println("late") }()`, "late\n"},
		{"a failure", `panic("no")`, "a goroutine of cell 1 failed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := New()
			defer s.Close()
			first, second := &page{}, &page{}
			run := func(n int, text string, p *page) {
				t.Helper()
				name := "cell " + string(rune('0'+n))
				if o := s.Run(context.Background(), source.Cell{Name: name, Count: n, Text: text}, p); o.Err != nil {
					t.Fatal(o.Err)
				}
			}
			run(1, "import (\"fmt\"; \"io\"; \"log\"; \"os\")\ntype stream struct{}\nfunc (stream) tell() { fmt.Println(\"tells\") }\n"+
				"var _, _, _ = log.Print, os.Stdout, io.EOF\nbegin, done := make(chan int), make(chan int)\n"+
				"go func() {\n\tdefer close(done)\n\t<-begin\n\t"+c.print+"\n}()\nfmt.Println(\"first\")", first)
			run(2, "fmt.Println(\"second\")\nbegin <- 1\n<-done", second)
			for end := time.Now().Add(5 * time.Second); !strings.Contains(first.String(), c.want) && time.Now().Before(end); {
				time.Sleep(time.Millisecond)
			}
			if got := first.String(); !strings.HasPrefix(got, "first\n") || !strings.Contains(got, c.want) {
				t.Errorf("the first cell printed %q, want %q", got, c.want)
			}
			if second.String() != "second\n" {
				t.Errorf("the second cell printed %q", second.String())
			}
		})
	}
}

func TestPrintingWithoutEnd(t *testing.T) {
	s := New()
	defer s.Close()
	p := &page{}
	time.AfterFunc(time.Second, s.Interrupt)
	start := time.Now()
	o := s.Run(context.Background(), source.Cell{Name: "cell 1", Text: "import \"fmt\"\nfor i := 0; ; i++ {\n\tfmt.Println(\"line\", i)\n}"}, p)
	if o.Err == nil || !strings.Contains(o.Err.Error(), "interrupted") {
		t.Errorf("ended with %v", o.Err)
	}
	if took := time.Since(start); took > 10*time.Second {
		t.Errorf("an interrupt after a second came through after %v", took)
	}
	if text := p.String(); len(text) > 1<<20 || !strings.Contains(text, "left out here") || !strings.HasPrefix(text, "line 0\n") {
		t.Errorf("%d bytes went out, ending in %q", len(text), text[max(0, len(text)-80):])
	}
	if got := tell(t, s, "1 + 1"); got[0] != "=> 2" {
		t.Errorf("the next cell said %q", got)
	}
}
