package liberation

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"cobber/stdlib/internal/expect"
	"cobber/stdlib/mineral"
	"cobber/stdlib/quantity"
	"cobber/stdlib/stream"
)

var value, near, refused = expect.Value, expect.Near, expect.Refused

func mm(x float64) quantity.Quantity { return quantity.Of(x, "mm") }

// cut lays cubes of side r at random on a lattice of unit cells, each the mineral with
// the chance p (or, isolated, one cell of a large empty space), and says what is in them.
func cut(r, p float64, random bool, trials int) grades {
	dice := rand.New(rand.NewPCG(7, uint64(1000*r)))
	var g grades
	second := 0.0
	period := 1 / math.Cbrt(p) // isolated: one grain in so large a cube, repeated
	for range trials {
		v := 0.0
		if random {
			var parts [3][]float64
			for axis := range 3 {
				start := dice.Float64()
				for at := 0.0; at < start+r; at++ {
					if part := min(start+r, at+1) - max(start, at); part > 0 {
						parts[axis] = append(parts[axis], part/r)
					}
				}
			}
			for _, a := range parts[0] {
				for _, b := range parts[1] {
					for _, c := range parts[2] {
						if dice.Float64() < p {
							v += a * b * c
						}
					}
				}
			}
		} else {
			v = 1
			for range 3 {
				start := dice.Float64()*period - r // the grain lies from 0 to 1, and again a period on
				overlap := max(min(start+r, 1)-max(start, 0), 0)
				v *= overlap / r
			}
		}
		v = min(v, 1)
		switch {
		case v < 1e-12:
			g.barren++
		case v > 1-1e-12:
			g.free++
		}
		g.mean, second = g.mean+v, second+v*v
	}
	n := float64(trials)
	g.barren, g.free, g.mean = g.barren/n, g.free/n, g.mean/n
	g.variance = second/n - g.mean*g.mean
	return g
}

// The formulas are what cutting up cubes at random gives.
func TestGradesAgainstCutting(t *testing.T) {
	const trials = 80000
	for _, test := range []struct {
		model Model
		share float64
		sizes []float64
	}{
		{Random, 0.2, []float64{0.25, 0.5, 1, 1.6, 2.3}},
		{Random, 0.6, []float64{0.3, 0.9, 1.5}},
		{Isolated, 0.05, []float64{0.25, 0.5, 0.9, 1.5}},
	} {
		for _, r := range test.sizes {
			want := cut(r, test.share, test.model == Random, trials)
			got, err := texture{1, test.share, test.model}.at(r)
			if err != nil {
				t.Fatal(err)
			}
			for what, pair := range map[string][2]float64{"barren": {got.barren, want.barren}, "free": {got.free, want.free},
				"mean": {got.mean, want.mean}, "variance": {got.variance, want.variance}} {
				if math.Abs(pair[0]-pair[1]) > 5*math.Sqrt(pair[1]*(1-pair[1])/trials)+1e-4 {
					t.Errorf("%v, V = %v, r = %v: %s %v, cut %v", test.model, test.share, r, what, pair[0], pair[1])
				}
			}
		}
	}
}

// Little mineral: both models agree. Fine particles: all is free.
func TestLimits(t *testing.T) {
	for _, r := range []float64{0.1, 0.5, 0.9} {
		a, err := Texture{mm(1), quantity.Number(1e-5), Isolated}.FreeMineral(mm(r))
		b, err2 := Texture{mm(1), quantity.Number(1e-5), Random}.FreeMineral(mm(r))
		near(t, "free", value(t, b, err2, "1"), value(t, a, err, "1"), 1e-2)
	}
	for _, model := range []Model{Isolated, Random} {
		x := Texture{mm(1), quantity.Of(10, "vol%"), model}
		free, err := x.FreeMineral(mm(1e-6))
		matrix, err2 := x.FreeMatrix(mm(1e-6))
		near(t, "fine", value(t, free, err, "1")*value(t, matrix, err2, "1"), 1, 1e-5)
		size, err := x.SizeFor(quantity.Of(60, "%"))
		if err != nil {
			t.Fatal(err)
		}
		free, err = x.FreeMineral(size)
		near(t, "back", value(t, free, err, "%"), 60, 1e-9)
		if table, err := x.Curve([]quantity.Quantity{mm(0.5), mm(0.1)}); err != nil || table.Rows() != 2 {
			t.Error(table, err)
		}
	}
	_, err := Texture{mm(1), quantity.Of(20, "vol%"), Isolated}.FreeMineral(mm(1))
	refused(t, "much mineral", err, "Random")
	_, err = Texture{mm(1), quantity.Of(10, "vol%"), Isolated}.FreeMineral(mm(3))
	refused(t, "coarse particles", err, "several grains")
	_, err = Texture{mm(1), quantity.Of(10, "wt%"), Random}.FreeMineral(mm(3))
	if err != nil && !strings.Contains(err.Error(), "volume") {
		t.Error(err)
	}
}

func TestUncertainGrains(t *testing.T) {
	grain := quantity.Must(quantity.Normal(mm(1), mm(0.1)))
	free, err := Texture{grain, quantity.Of(10, "vol%"), Random}.FreeMineral(mm(0.3))
	if err != nil || !free.IsUncertain() {
		t.Errorf("%v, %v", free, err)
	}
}

// I_x(1, b) = 1 − (1 − x)^b; I_x(a, 1) = x^a; halves of the symmetric; binomial sums for
// whole numbers (DLMF 8.17).
func TestIncompleteBeta(t *testing.T) {
	for _, b := range []float64{0.2, 1, 7.5, 60} {
		near(t, "I_x(1, b)", below(0.1, 1, b), 1-math.Pow(0.9, b), 1e-13)
		near(t, "I_x(b, 1)", below(0.3, b, 1), math.Pow(0.3, b), 1e-13)
		near(t, "symmetric", below(0.5, b, b), 0.5, 1e-12)
	}
	sum := 0.0
	for k, choose := range map[int]float64{3: 20, 4: 15, 5: 6, 6: 1} { // I_x(3, 4) of n = 6
		sum += choose * math.Pow(0.35, float64(k)) * math.Pow(0.65, float64(6-k))
	}
	near(t, "I_x(3, 4)", below(0.35, 3, 4), sum, 1e-13)
}

// Dealing out keeps amount and mean for any classes.
func TestSpreadKeepsTheMean(t *testing.T) {
	for _, at := range [][]float64{{0, 0.5, 1}, {0, 0.1, 0.2, 0.4, 0.7, 1}} {
		for _, r := range []float64{0.05, 0.4, 1, 3, 20} {
			g, err := texture{1, 0.15, Random}.at(r)
			if err != nil {
				t.Fatal(err)
			}
			total, mean := 0.0, 0.0
			for k, x := range g.spread(at) {
				if x < 0 {
					t.Errorf("class %d gets %v", k, x)
				}
				total, mean = total+x, mean+x*at[k]
			}
			near(t, "amount", total, 1, 1e-9)
			near(t, "mean", mean, 0.15, 1e-9)
		}
	}
}

func ilmeniteOre(t testing.TB) (*stream.Classes, Liberator) {
	t.Helper()
	heavy, err := mineral.Find("ilmenite")
	if err != nil {
		t.Fatal(err)
	}
	light, err := mineral.Find("quartz")
	if err != nil {
		t.Fatal(err)
	}
	barren, _ := stream.Free(light)
	free, _ := stream.Free(heavy)
	particles, names := []stream.Particle{barren}, []string{barren.Name}
	for _, percent := range []float64{15, 30, 50, 75} {
		p, err := stream.Locked(heavy, quantity.Of(percent, "%"), light)
		if err != nil {
			t.Fatal(err)
		}
		particles, names = append(particles, p), append(names, p.Name)
	}
	particles, names = append(particles, free), append(names, free.Name)
	var openings []quantity.Quantity
	for i := range 8 {
		openings = append(openings, mm(4*math.Exp2(-float64(i))))
	}
	c, err := stream.NewClasses(openings, particles...)
	if err != nil {
		t.Fatal(err)
	}
	return c, Liberator{Mineral: "ilmenite", Classes: names, Grain: mm(0.5), Model: Random}
}

// Locked ore, ground: mass closes, finer sizes are freer, and doing it again changes
// nothing.
func TestLiberator(t *testing.T) {
	c, l := ilmeniteOre(t)
	flows := make([][]float64, 8)
	for i := range flows {
		flows[i] = []float64{0, 0, 1, 0, 0, 0}
	}
	feed, err := stream.New("ground", c, flows, quantity.Of(0, "t/h"))
	if err != nil {
		t.Fatal(err)
	}
	out, err := l.Apply(feed)
	if err != nil {
		t.Fatal(err)
	}
	last := -1.0
	for i := range flows {
		free := out[0].Flow(i, 5) / 0.3
		if free < last {
			t.Errorf("class %d is less free, %v after %v", i, free, last)
		}
		last = free
	}
	if last < 0.9 {
		t.Errorf("the finest class is %v free", last)
	}
	again, err := l.Apply(out[0])
	if err != nil {
		t.Fatal(err)
	}
	for i := range flows {
		for j := range 6 {
			if math.Abs(again[0].Flow(i, j)-out[0].Flow(i, j)) > 1e-9 {
				t.Errorf("class %d, %d changes from %v to %v", i, j, out[0].Flow(i, j), again[0].Flow(i, j))
			}
		}
	}
	share, err := FreeShare(out[0], "ilmenite", quantity.Of(95, "%"))
	if x := value(t, share, err, "%"); x < 20 || x > 90 {
		t.Errorf("free share %v", x)
	}
	none, err := FreeShare(feed, "ilmenite", quantity.Of(95, "%"))
	if value(t, none, err, "%") != 0 {
		t.Error("locked ore is free")
	}
	l.Classes[0], l.Classes[1] = l.Classes[1], l.Classes[0]
	_, err = l.Apply(feed)
	refused(t, "order", err, "order")
}

func BenchmarkLiberator(b *testing.B) {
	c, l := ilmeniteOre(b)
	flows := make([][]float64, 8)
	for i := range flows {
		flows[i] = []float64{0, 0, 1, 0, 0, 0}
	}
	feed, err := stream.New("ground", c, flows, quantity.Of(0, "t/h"))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := l.Apply(feed); err != nil {
			b.Fatal(err)
		}
	}
}
