package table_test

import (
	"fmt"
	"strings"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// The shifts of an invented mill, as a laboratory might send them.
const shifts = `shift,ore (t),Cu (%)
A,400,1.2
B,100,0.7
A,500,1.0
`

// Grades are averaged by the mass they stand for, masses are added.
func ExampleReadCSV() {
	t, err := table.ReadCSV(strings.NewReader(shifts))
	if err != nil {
		fmt.Println(err)
		return
	}
	sums, err := t.Totals("ore")
	if err != nil {
		fmt.Println(err)
		return
	}
	both, err := sums.Mean("Cu", "ore")
	fmt.Println(both, err)
	// Output:
	// shift  ore (t)  Cu (%)
	// ─────  ───────  ──────
	// A          400    1.20
	// B          100    0.70
	// A          500    1.00
	// ─────  ───────  ──────
	// total     1000    1.05 <nil>
}

// The shifts of one crew, and the sum of what they fed.
func ExampleTable_Where() {
	t, err := table.ReadCSV(strings.NewReader(shifts))
	if err != nil {
		fmt.Println(err)
		return
	}
	crew, err := t.Where("shift", "A")
	if err != nil {
		fmt.Println(err)
		return
	}
	ore, err := crew.Column("ore")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(crew.Rows(), "shifts,", quantity.Sum(ore...))
	// Output: 2 shifts, 900 t
}

// A table built by hand, with a caption, as text and as Markdown for a report.
func ExampleNew() {
	t, err := table.New(
		table.Texts("stream", []string{"feed", "concentrate"}),
		table.Quantities("Cu", []quantity.Quantity{quantity.Of(1.1, "%"), quantity.Of(24, "%")}),
		table.Numbers("samples", []float64{12, 6}))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(t.Caption("Assays (invented)"))
	fmt.Println(t.Names())
	fmt.Println(t.Markdown())
	// Output:
	// Assays (invented)
	// stream       Cu (%)  samples
	// ───────────  ──────  ───────
	// feed            1.1       12
	// concentrate    24.0        6
	// [stream Cu samples]
	// | stream | Cu (%) | samples |
	// |:---|---:|---:|
	// | feed | 1.1 | 12 |
	// | concentrate | 24.0 | 6 |
}

// A gap among the grades is named with its row before anything is reckoned with it.
func ExampleTable_Complete() {
	t, err := table.ReadCSV(strings.NewReader("stream,Cu (%)\nfeed,1.1\ntailing,\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(t.Complete("Cu"))
	// Output: table: missing values: row 2, column "Cu"
}
