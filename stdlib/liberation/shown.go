package liberation

import (
	"fmt"
	"strings"
)

// String is the texture in a line.
func (t Texture) String() string {
	return fmt.Sprintf("%v of grains of %v, %v", t.Share, t.Grain, t.Model)
}

// String is the liberator in a line.
func (l Liberator) String() string {
	return fmt.Sprintf("%s in grains of %v, %v, over %s", l.Mineral, l.Grain, l.Model, strings.Join(l.Classes, ", "))
}

// String is the grades in a line.
func (g Grades) String() string {
	return fmt.Sprintf("%.3g barren, %.3g free, %.3g locked with %.3g ± %.2g of the mineral, by volume",
		g.Barren.Certain(), g.Free.Certain(), g.Locked.Certain(), g.LockedMean.Certain(), g.LockedDeviation.Certain())
}
