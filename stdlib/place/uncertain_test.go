package place

import (
	"strings"
	"testing"

	"cobber/stdlib/quantity"
)

// TestUncertainShares: a gas counts by plain shares, so uncertain ones are refused.
func TestUncertainShares(t *testing.T) {
	share := quantity.Must(quantity.Uniform(quantity.Of(94, "%"), quantity.Of(96, "%")))
	if _, err := NewGas(Part{"CO2", share}, Part{"N2", quantity.Of(5, "%")}); err == nil || !strings.Contains(err.Error(), "is uncertain") {
		t.Errorf("an uncertain share: %v", err)
	}
}
