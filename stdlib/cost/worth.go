package cost

import (
	"errors"
	"fmt"
	"math"

	"cobber/stdlib/quantity"
)

// withInterest is an amount times a factor of interest and years.
func withInterest(amount, interest quantity.Quantity, years int, f func(i, n float64) float64) (quantity.Quantity, error) {
	if years < 1 {
		return quantity.Quantity{}, fmt.Errorf("cost: %d years; it takes one at least", years)
	}
	factor, err := quantity.Through(func(v []quantity.Quantity) (quantity.Quantity, error) {
		i, err := v[0].Float()
		if err != nil || !(i > -1 && i < 10) {
			return quantity.Quantity{}, fmt.Errorf("cost: interest per year is a number or %%, above −100 %%, and %v is not", v[0])
		}
		return quantity.Number(f(i, float64(years))), nil
	}, interest)
	if err != nil {
		return quantity.Quantity{}, err
	}
	return amount.Mul(factor), nil
}

// Annuity is the even yearly payment that is worth an amount now:
//
//	A = P·i/(1 − (1+i)^−n)
//
// Units: interest per year, a plain number or %; the result as the amount.
//
// Range: payments at the end of each year.
//
// Errors: fewer than one year; an interest that is no number or not above −100 %.
//
// Source: compound interest; any text on engineering economics.
func Annuity(amount, interest quantity.Quantity, years int) (quantity.Quantity, error) {
	return withInterest(amount, interest, years, func(i, n float64) float64 {
		if i == 0 {
			return 1 / n
		}
		return i / (1 - math.Pow(1+i, -n))
	})
}

// SinkingFund is the even yearly payment that grows to an amount:
//
//	A = F·i/((1+i)^n − 1)
//
// Units: interest per year, a plain number or %; the result as the amount.
//
// Range: payments at the end of each year.
//
// Errors: as Annuity.
//
// Source: as Annuity.
func SinkingFund(amount, interest quantity.Quantity, years int) (quantity.Quantity, error) {
	return withInterest(amount, interest, years, func(i, n float64) float64 {
		if i == 0 {
			return 1 / n
		}
		return i / (math.Pow(1+i, n) - 1)
	})
}

// PresentWorth is what payments at the end of each year, the first of them now, are
// worth now:
//
//	P = Σ payment(k)/(1+i)^k,  k = 0, 1, 2 …
//
// Units: payments in one currency, below 0 for what is spent; interest per year.
//
// Range: any.
//
// Errors: no payments, or unlike ones; an interest that is no number or not above
// −100 %.
//
// Source: as Annuity.
func PresentWorth(payments []quantity.Quantity, interest quantity.Quantity) (quantity.Quantity, error) {
	if len(payments) == 0 {
		return quantity.Quantity{}, errors.New("cost: there are no payments")
	}
	if _, err := withInterest(payments[0], interest, 1, func(i, n float64) float64 { return 1 }); err != nil {
		return quantity.Quantity{}, err // of a single payment too
	}
	sum := payments[0]
	for k, payment := range payments[1:] {
		if !payment.Unit().Compatible(sum.Unit()) {
			return quantity.Quantity{}, fmt.Errorf("cost: payment %d, %v, cannot be added to %v", k+2, payment, sum)
		}
		now, err := withInterest(payment, interest, k+1, func(i, n float64) float64 { return math.Pow(1+i, -n) })
		if err != nil {
			return quantity.Quantity{}, err
		}
		sum = sum.Add(now)
	}
	return sum, nil
}

// Depreciated is the value left after some years when a thing loses the same each
// year until nothing but its salvage is left:
//
//	value = P − (P − S)·k/n
//
// Units: amounts of one currency.
//
// Range: years from 0 to the life.
//
// Errors: a life below one year; years outside it; amounts of unlike kind.
//
// Source: straight-line depreciation; any text on engineering economics.
func Depreciated(price, salvage quantity.Quantity, life, years int) (quantity.Quantity, error) {
	if life < 1 || years < 0 || years > life {
		return quantity.Quantity{}, fmt.Errorf("cost: %d years of a life of %d", years, life)
	}
	if !price.Unit().Compatible(salvage.Unit()) {
		return quantity.Quantity{}, fmt.Errorf("cost: the salvage, %v, cannot be taken from the price, %v", salvage, price)
	}
	return price.Sub(price.Sub(salvage).Mul(quantity.Number(float64(years) / float64(life)))), nil
}
