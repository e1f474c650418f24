package quantity

import (
	"fmt"
	"math"
	"math/big"
	"strings"
)

// factor is the size of a unit in coherent SI units, kept exactly as long as
// it is a rational number times a power of π; rest takes what is neither.
type factor struct {
	rational *big.Rat
	pi       int
	rest     float64
}

func unity() factor { return factor{big.NewRat(1, 1), 0, 1} }

func (f factor) mul(g factor) factor {
	return factor{new(big.Rat).Mul(f.rational, g.rational), f.pi + g.pi, f.rest * g.rest}
}

func (f factor) inverse() factor {
	return factor{new(big.Rat).Inv(f.rational), -f.pi, 1 / f.rest}
}

func (f factor) div(g factor) factor { return f.mul(g.inverse()) }

func (f factor) pow(e exponent) factor {
	num, den := e.parts()
	if num < 0 {
		return f.inverse().pow(e.neg())
	}
	if den == 1 {
		n := big.NewInt(int64(num))
		r := new(big.Rat).SetFrac(
			new(big.Int).Exp(f.rational.Num(), n, nil),
			new(big.Int).Exp(f.rational.Denom(), n, nil))
		return factor{r, f.pi * num, math.Pow(f.rest, float64(num))}
	}
	if root, ok := f.squareRoot(); ok && den%2 == 0 {
		return root.pow(mustExponent(num*2, den))
	}
	return factor{big.NewRat(1, 1), 0, math.Pow(f.float(), e.float())}
}

// squareRoot is exact where numerator and denominator are squares.
func (f factor) squareRoot() (factor, bool) {
	n, d := new(big.Int).Sqrt(f.rational.Num()), new(big.Int).Sqrt(f.rational.Denom())
	square := func(root, of *big.Int) bool { return new(big.Int).Mul(root, root).Cmp(of) == 0 }
	if f.pi%2 != 0 || f.rest != 1 || !square(n, f.rational.Num()) || !square(d, f.rational.Denom()) {
		return factor{}, false
	}
	return factor{new(big.Rat).SetFrac(n, d), f.pi / 2, 1}, true
}

func (f factor) isOne() bool {
	return f.pi == 0 && f.rest == 1 && f.rational.Cmp(big.NewRat(1, 1)) == 0
}

func (f factor) equal(g factor) bool {
	return f.pi == g.pi && f.rest == g.rest && f.rational.Cmp(g.rational) == 0
}

func (f factor) float() float64 {
	num, den := f.split()
	return num / den
}

// split gives the factor as a quotient of two floats. Multiplying by the first
// and dividing by the second is exact to one rounding for the decimal factors
// of the trade: 57 % becomes 57/100, not 57 times a rounded 0.01.
func (f factor) split() (num, den float64) {
	num, exactNum := new(big.Rat).SetInt(f.rational.Num()).Float64()
	den, exactDen := new(big.Rat).SetInt(f.rational.Denom()).Float64()
	if !exactNum || !exactDen {
		num, _ = f.rational.Float64()
		den = 1
	}
	if f.pi > 0 {
		num *= math.Pow(math.Pi, float64(f.pi))
	}
	if f.pi < 0 {
		den *= math.Pow(math.Pi, float64(-f.pi))
	}
	return num * f.rest, den
}

// parseFactor reads an exact factor: decimal numbers and pi, joined by * and /
// from left to right, such as "1000/4/pi" or "5/9".
func parseFactor(text string) (factor, error) {
	f := unity()
	rest, divide := text, false
	for {
		end := strings.IndexAny(rest, "*/")
		word := rest
		if end >= 0 {
			word = rest[:end]
		}
		g := unity()
		if word = strings.TrimSpace(word); word == "pi" {
			g.pi = 1
		} else if _, ok := g.rational.SetString(word); !ok || g.rational.Sign() <= 0 {
			return factor{}, fmt.Errorf("factor %q: %q is not a positive number", text, word)
		}
		if divide {
			g = g.inverse()
		}
		f = f.mul(g)
		if end < 0 {
			return f, nil
		}
		divide = rest[end] == '/'
		rest = rest[end+1:]
	}
}
