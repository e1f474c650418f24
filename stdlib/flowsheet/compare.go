package flowsheet

import (
	"fmt"

	"cobber/stdlib/quantity"
	"cobber/stdlib/table"
)

// Case is one plant of a comparison, with the stream that counts as its product.
type Case struct {
	Name    string
	Result  *Result
	Product string
}

// Compare sets plants side by side: what each makes of its feed, how pure, how
// much of it, and with what energy.
//
// Units: rates in t/h, shares in %, power in kW, energies in kWh/t.
//
// Range: a mineral, element or oxide that every feed holds. Energy is that of the
// units that state one; the last column counts those that do not.
//
// Errors: no case; a case without a result or with a product that it has not; what
// units refuse; a component that a feed does not hold.
//
// Source: common practice.
func Compare(what string, cases ...Case) (table.Table, error) {
	if len(cases) == 0 {
		return table.Table{}, fmt.Errorf("flowsheet: there is no plant to compare")
	}
	var names []string
	var fed, made, grade, recovery, power, perFeed, perProduct []quantity.Quantity
	var steps, silent []float64
	for _, c := range cases {
		row, err := c.row(what)
		if err != nil {
			return table.Table{}, fmt.Errorf("flowsheet: %s: %w", c.Name, err)
		}
		names = append(names, c.Name)
		fed, made, grade, recovery = append(fed, row[0]), append(made, row[1]), append(grade, row[2]), append(recovery, row[3])
		power, perFeed, perProduct = append(power, row[4]), append(perFeed, row[5]), append(perProduct, row[6])
		steps, silent = append(steps, float64(len(c.Result.sheet.steps))), append(silent, row[7].SI())
	}
	columns := []table.Column{
		table.Texts("plant", names), table.Quantities("feed", fed), table.Quantities("product", made),
		table.Quantities("grade of "+what, grade), table.Quantities("recovery of "+what, recovery), table.Quantities("power", power),
		table.Quantities("per tonne of feed", perFeed), table.Quantities("per tonne of product", perProduct),
		table.Numbers("steps", steps),
	}
	for _, n := range silent {
		if n > 0 {
			columns = append(columns, table.Numbers("steps without power", silent))
			break
		}
	}
	compared, err := table.New(columns...)
	if err != nil {
		return table.Table{}, fmt.Errorf("flowsheet: %w", err)
	}
	return compared, nil
}

// row is the figures of one case.
func (c Case) row(what string) ([]quantity.Quantity, error) {
	if c.Result == nil {
		return nil, fmt.Errorf("it has no result; solve it first")
	}
	product, err := c.Result.Stream(c.Product)
	if err != nil {
		return nil, err
	}
	grade, err := product.Grade(what)
	if err != nil {
		return nil, err
	}
	recovery, err := c.Result.Recovery(c.Product, what)
	if err != nil {
		return nil, err
	}
	energy, err := c.Result.Energy()
	if err != nil {
		return nil, err
	}
	feed := c.Result.Feed().Solids()
	perFeed, err := energy.PerTonne(feed)
	if err != nil {
		return nil, err
	}
	perProduct, err := energy.PerTonne(product.Solids())
	if err != nil {
		return nil, err
	}
	return []quantity.Quantity{feed, product.Solids(), grade.To("%"), recovery.To("%"), energy.Total(), perFeed, perProduct,
		quantity.Number(float64(len(energy.Silent())))}, nil
}
