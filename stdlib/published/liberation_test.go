package published

import (
	"testing"

	"cobber/stdlib/liberation"
	"cobber/stdlib/quantity"
)

// TestGaudinsCubes: A.M. Gaudin, Principles of Mineral Dressing (1939): an isolated cube
// broken into cubes of half its size leaves one in eight of its mass free; for 75 % the
// particles are 10.9 times finer (values from memory, from the argument of the book).
func TestGaudinsCubes(t *testing.T) {
	rock := liberation.Texture{Grain: quantity.Of(1, "mm"), Share: quantity.Of(5, "vol%"), Model: liberation.Isolated}
	for ratio, published := range map[float64]float64{1: 0, 2: 0.125, 4: 0.421875, 10: 0.729, 16: 0.823975} {
		free := must[quantity.Quantity](t)(rock.FreeMineral(quantity.Of(1/ratio, "mm")))
		within(t, "free", in(t, free, "1"), published, 1e-6)
	}
	size := must[quantity.Quantity](t)(rock.SizeFor(quantity.Of(75, "%")))
	near(t, "ratio for 75 %", 1/in(t, size, "mm"), 10.936, 1e-4)
}

// TestWiegelAndLi: R.L. Wiegel, K. Li, Trans. SME-AIME 238 (1967) 179, the free mineral of
// a random lattice, ((K−1)³ + 3(K−1)²V + 3(K−1)V³ + V⁷)/K³ (from memory), against the count
// of cells here.
func TestWiegelAndLi(t *testing.T) {
	for _, v := range []float64{0.05, 0.3, 0.7} {
		rock := liberation.Texture{Grain: quantity.Of(1, "mm"), Share: quantity.Number(v), Model: liberation.Random}
		for _, k := range []float64{1, 1.5, 4, 20} {
			free := must[quantity.Quantity](t)(rock.FreeMineral(quantity.Of(1/k, "mm")))
			j := k - 1
			near(t, "free", in(t, free, "1"), (j*j*j+3*j*j*v+3*j*v*v*v+v*v*v*v*v*v*v)/(k*k*k), 1e-9)
		}
	}
}

// TestBetaOfKing: R.P. King (2001): a mean grade of 0.3 with a variance of 0.09 has the
// parameters 0.4 and 0.933333 (the form from memory, worked out by hand).
func TestBetaOfKing(t *testing.T) {
	a, b, err := liberation.Beta(quantity.Number(0.3), quantity.Number(0.3))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "a", in(t, a, "1"), 0.4, 1e-12)
	near(t, "b", in(t, b, "1"), 0.933333, 1e-6)
}
