package session

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

const inputCell = "//cobber:inputs\nfeed := 40`t/h`\ngrade := quantity.Must(quantity.Uniform(5`%`, 7`%`))\nvar name, passes = \"pilot\", 3\nfactor, closed := 1.5, true\nlist := []int{1}"

func TestInputsAreSet(t *testing.T) {
	s := New()
	defer s.Close()
	s.Set(map[string]string{"feed": "2.5 kg/s", "grade": "7±1%", "name": "full = scale", "passes": "4", "factor": " 2e1 ", "closed": "false"})
	said := tell(t, s, inputCell, "import \"fmt\"\nfmt.Println(feed, grade.IsUncertain(), grade.Influences()[0].Name, name, passes, factor, closed)")
	if want := "2.5 kg/s true grade full = scale 4 20 false"; said[0] != "" || said[1] != want {
		t.Errorf("the cells said %q, want %q", said, want)
	}
	var set []string
	for _, in := range s.Inputs() {
		set = append(set, fmt.Sprintf("%s %s %t", in.Name, in.Cell, in.Set))
	}
	if !slices.Contains(set, "feed cell 1 true") || len(set) != 6 {
		t.Errorf("the inputs are %v", set)
	}
}

func TestInputsStayTheirOwn(t *testing.T) {
	s := New()
	defer s.Close()
	said := tell(t, s, inputCell, "feed", inputCell)
	if said[1] != "=> 40 t/h" || len(s.Inputs()) != 6 || s.Inputs()[0].Own != "40 t/h" || s.Inputs()[0].Set {
		t.Errorf("said %q, inputs %+v", said, s.Inputs())
	}
}

func TestWrongInputs(t *testing.T) {
	for set, want := range map[string]string{
		"feed=3 kWh":   `line 2, column 1: cannot set feed to "3 kWh": the cell has it in t/h, and cannot show 3 kWh (energy, as J) in t/h`,
		"feed=50":      "the cell has it in t/h: write the unit too, such as 40 t/h",
		"grade=7":      "the cell has it in %: write the unit too, such as 6.0",
		"feed=5 tt":    "there is no unit",
		"passes=4.5":   "line 4, column 5: cannot set passes to \"4.5\": the cell has a whole number there, such as 3",
		"factor=2 t":   "the cell has a number without a unit there, such as 1.5",
		"closed=off":   "the cell has true or false there",
		"feed=NaN t/h": "an input is a finite number, and NaN t/h is not",
		"factor=-Inf":  "an input is a finite number, and -Inf is not",
		"list=3":       "cannot set list to \"3\": only quantities, numbers, texts, true and false can be set from outside",
	} {
		t.Run(set, func(t *testing.T) {
			s := New()
			defer s.Close()
			name, value, _ := strings.Cut(set, "=")
			s.Set(map[string]string{name: value})
			if said := tell(t, s, inputCell)[0]; !strings.Contains(said, want) {
				t.Errorf("said %s\nwant %s", said, want)
			}
		})
	}
}

func TestOnlyCellsWithTheDirectiveAreSet(t *testing.T) {
	s := New()
	defer s.Close()
	s.Set(map[string]string{"feed": "3 t/h"})
	if said := tell(t, s, "feed := 40`t/h`", "feed"); said[1] != "=> 40 t/h" {
		t.Errorf("said %q", said)
	}
	if names := InputNames(inputCell); !slices.Equal(names, []string{"feed", "grade", "name", "passes", "factor", "closed", "list"}) {
		t.Errorf("the inputs are %v", names)
	}
	for _, text := range []string{"feed := 3", "//cobber:inputs\nconst limit = 8", "//cobber:inputs\nfeed := := 3", ""} {
		if names := InputNames(text); names != nil {
			t.Errorf("%q has the inputs %v", text, names)
		}
	}
}

// The working of a cell whose inputs were set shows what was used.
func TestWorkingOfSetInputs(t *testing.T) {
	s := New()
	defer s.Close()
	s.Set(map[string]string{"b": "7"})
	p := showing(t, s, "//cobber:inputs\n//cobber:working\na := 2\nb := 3 * a // of the plan\nc := a + b")
	if want := "a = 2\nb = 7    (set from outside)\nc = a + b = 2 + 7 = 9"; p != want {
		t.Errorf("the working is\n%s\nwant\n%s", p, want)
	}
}
