package session

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"cobber/kernel/source"
	"cobber/stdlib/show"
)

// typing is an output whose user answers every question with the next line.
type typing struct {
	lines   []string
	printed strings.Builder
}

func (o *typing) Stream(_, text string) { o.printed.WriteString(text) }

func (o *typing) Event(e show.Event) {
	switch {
	case e.Kind != show.KindAsk:
	case o.lines == nil: // nobody is there
	case len(o.lines) == 0:
		e.Answer("", io.EOF)
	default:
		fmt.Fprintf(&o.printed, "[%s]", e.Text)
		e.Answer(o.lines[0], nil)
		o.lines = o.lines[1:]
	}
}

func TestStandardInput(t *testing.T) {
	s := New()
	defer s.Close()
	for _, test := range []struct {
		name, cell string
		lines      []string
		want       string
	}{
		{"words", "import \"fmt\"\nvar a, b int\nn, err := fmt.Scan(&a, &b)\nfmt.Println(n, err, a*b)", []string{"6", "7"}, "[][]2 <nil> 42\n"},
		{"a line", "var c float64; var w string\nk, err := fmt.Scanln(&c, &w)\nfmt.Println(k, err, c, w)", []string{"2.5 t"}, "[]2 <nil> 2.5 t\n"},
		{"a form", "var d, e int\nl, err := fmt.Scanf(\"%d/%d\\n\", &d, &e)\nfmt.Println(l, err, d, e)", []string{"3/4"}, "[]2 <nil> 3 4\n"},
		{"a type of the session", "type mass float64\nvar m mass\n_, err = fmt.Scan(&m)\nfmt.Println(err, m)", []string{"1.5"}, "[]<nil> 1.5\n"},
		{"a scanner", "import (\"bufio\"; \"os\")\nlines := bufio.NewScanner(os.Stdin)\nfor lines.Scan() {\n\tfmt.Println(lines.Text())\n}",
			[]string{"one", "two"}, "[]one\n[]two\n"},
		{"a reader", "r := bufio.NewReader(os.Stdin)\ntext, err := r.ReadString('\\n')\nfmt.Printf(\"%q %v\\n\", text, err)", []string{"x y"}, "[]\"x y\\n\" <nil>\n"},
		{"from the file by name", "var g int\n_, err = fmt.Fscan(os.Stdin, &g)\nfmt.Println(g, err)", []string{"9"}, "[]9 <nil>\n"},
		{"by the file itself", "some := make([]byte, 9)\nread, err := os.Stdin.Read(some)\nfmt.Printf(\"%q %v\\n\", some[:read], err)", []string{"x y"}, "[]\"x y\\n\" <nil>\n"},
		{"by the file as a reader", "import \"io\"\nvar from io.Reader = os.Stdin\nread, err = from.Read(some)\nfmt.Printf(\"%q %v\\n\", some[:read], err)", []string{"z"}, "[]\"z\\n\" <nil>\n"},
		{"by the file, at the end", "read, err = os.Stdin.Read(some)\nfmt.Println(read, err)", []string{}, "0 EOF\n"},
		{"another file", "none, err := os.Open(os.DevNull)\nfmt.Println(err)\nread, err = none.Read(some)\nfmt.Println(read, err)", nil, "<nil>\n0 EOF\n"},
		{"no file", "none = nil\nread, err = none.Read(some)\nfmt.Println(read, err)", nil, "0 invalid argument\n"},
		{"from elsewhere", "import \"strings\"\nvar h int\n_, err = fmt.Fscan(strings.NewReader(\"8\"), &h)\nfmt.Println(h, err)", nil, "8 <nil>\n"},
		{"by the page", "name, err := show.Ask(\"name? \")\nfmt.Println(name, err)", []string{"sand"}, "[name? ]sand <nil>\n"},
		{"the end", "var i int\n_, err = fmt.Scan(&i)\nfmt.Println(err)", []string{}, "EOF\n"},
		{"nobody", "var j int\n_, err = fmt.Scan(&j)\nfmt.Println(err)", nil, show.ErrNobody.Error() + "\n"},
	} {
		t.Run(test.name, func(t *testing.T) {
			out := &typing{lines: test.lines}
			outcome := s.Run(context.Background(), source.Cell{Name: "cell 1", Count: 1, Text: test.cell}, out)
			if outcome.Err != nil {
				t.Fatal(outcome.Err)
			}
			if got := out.printed.String(); got != test.want {
				t.Errorf("got %q, want %q", got, test.want)
			}
		})
	}
}

// waiting is an output whose user is asked and does not answer until the cell is interrupted.
type waiting struct {
	typing
	ctx   context.Context
	asked chan struct{}
}

func (o *waiting) Event(e show.Event) {
	if e.Kind == show.KindAsk {
		close(o.asked)
		<-o.ctx.Done()
		e.Answer("", o.ctx.Err())
	}
}

func TestInterruptWhileAsking(t *testing.T) {
	s := New()
	defer s.Close()
	ctx, cancel := context.WithCancel(context.Background())
	out := &waiting{ctx: ctx, asked: make(chan struct{})}
	go func() { <-out.asked; cancel(); s.Interrupt() }()
	outcome := s.Run(ctx, source.Cell{Name: "cell 1", Count: 1, Text: "import \"fmt\"\nkept := 1\nvar x int\nfmt.Scan(&x)\nlost := 2"}, out)
	var failure *Failure
	if !errors.As(outcome.Err, &failure) || failure.Diagnostic().Code != "interrupted" {
		t.Fatalf("got %v", outcome.Err)
	}
	again := s.Run(context.Background(), source.Cell{Name: "cell 2", Count: 2, Text: "kept"}, &typing{})
	if again.Err != nil || len(again.Values) != 1 || again.Values[0] != 1 {
		t.Errorf("afterwards: %v, %v", again.Values, again.Err)
	}
}
