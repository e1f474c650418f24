package numeric

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// quasiDefinite makes a random sparse matrix with a positive and a negative block,
// in both forms.
func quasiDefinite(draw *rand.Rand, n, entries int) (*Symmetric, *mat.Dense) {
	s, dense := NewSymmetric(n), mat.NewDense(n, n, nil)
	add := func(i, j int, v float64) {
		s.Add(i, j, v)
		dense.Set(i, j, dense.At(i, j)+v)
		if i != j {
			dense.Set(j, i, dense.At(j, i)+v)
		}
	}
	for i := range n {
		sign := 1.0
		if i >= 2*n/3 {
			sign = -1
		}
		add(i, i, sign*(0.5+draw.Float64()))
	}
	for range entries { // only between the blocks, so that each stays definite
		add(draw.IntN(2*n/3), 2*n/3+draw.IntN(n-2*n/3), draw.NormFloat64())
	}
	return s, dense
}

// Solutions and the diagonal of the inverse against gonum's dense algebra.
func TestSparseIsDense(t *testing.T) {
	draw := rand.New(rand.NewPCG(1, 2))
	for _, size := range []int{3, 10, 60} {
		s, dense := quasiDefinite(draw, size, 3*size)
		f, ok := s.Factor()
		if !ok {
			t.Fatal("no factor")
		}
		right := make([]float64, size)
		for i := range right {
			right[i] = draw.NormFloat64()
		}
		got := f.Solve(right)
		for i, product := range s.Times(got) {
			if math.Abs(product-right[i]) > 1e-10 {
				t.Errorf("size %d: row %d gives %v, want %v", size, i, product, right[i])
			}
		}
		var inverse mat.Dense
		if err := inverse.Inverse(dense); err != nil {
			t.Fatal(err)
		}
		for i, value := range f.InverseDiagonal() {
			if math.Abs(value-inverse.At(i, i)) > 1e-10*(1+math.Abs(value)) {
				t.Errorf("size %d: inverse %d is %v, dense %v", size, i, value, inverse.At(i, i))
			}
			if one := f.InverseEntry(i); math.Abs(one-value) > 1e-10*(1+math.Abs(value)) {
				t.Errorf("size %d: inverse entry %d is %v, in the diagonal %v", size, i, one, value)
			}
		}
		var backwards []int
		for i := range size {
			backwards = append(backwards, size-1-i)
		}
		for i, value := range f.InverseEntries(backwards) {
			if one := inverse.At(backwards[i], backwards[i]); math.Abs(one-value) > 1e-10*(1+math.Abs(value)) {
				t.Errorf("size %d: inverse entry %d among all is %v, dense %v", size, backwards[i], value, one)
			}
		}
		// The same places with other values.
		s.Clear()
		for i := range size {
			s.Add(i, i, 2)
		}
		f, ok = s.Factor()
		if !ok || math.Abs(f.Solve(right)[0]-right[0]/2) > 1e-15 {
			t.Errorf("size %d: after Clear %v", size, ok)
		}
	}
}

func TestSparseRefuses(t *testing.T) {
	s := NewSymmetric(2)
	s.Add(0, 1, 1)
	if _, ok := s.Factor(); ok {
		t.Error("a pivot of 0 passed")
	}
	for name, wrong := range map[string]func(){
		"size": func() { NewSymmetric(0) }, "entry": func() { s.Add(2, 0, 1) }, "product": func() { s.Times([]float64{1}) },
		"right side": func() {
			one := NewSymmetric(1)
			one.Add(0, 0, 1)
			f, _ := one.Factor()
			f.Solve(nil)
		},
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			wrong()
		}()
	}
}
