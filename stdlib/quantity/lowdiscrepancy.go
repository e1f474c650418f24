package quantity

import (
	"math/bits"
	"math/rand/v2"
)

// A direction is what one coordinate of a Sobol sequence is made from: a
// primitive polynomial over the field of two elements, of the given degree, whose
// inner coefficients are the bits of inner, and odd numbers to begin with, the
// i-th below 2 to the power i. The numbers were found by search, so that each two
// coordinates are as even together as can be had; lowdiscrepancy_test.go does
// the search again. The first coordinate, the mirrored binary numbers, needs none.
//
// Source: I. M. Sobol, USSR Comput. Math. Math. Phys. 7 (1967), no. 4, 86-112;
// P. Bratley and B. L. Fox, ACM Trans. Math. Softw. 14 (1988), 88-100.
type direction struct {
	degree, inner int
	begin         []uint32
}

// coordinates is how many inputs get a coordinate of their own; those after them
// are paired at random.
var coordinates = len(directions) + 1

// sobolDigits is to how many binary digits points are made; a sequence of up to
// 2 to that power points repeats none.
const sobolDigits = 24

// columns are the generating numbers of coordinate k: the point with number i is
// the exclusive or of those for which i has a digit.
func columns(k int) [sobolDigits]uint32 {
	var v [sobolDigits]uint32
	if k == 0 {
		for i := range v {
			v[i] = 1 << (sobolDigits - 1 - i)
		}
		return v
	}
	d := directions[k-1]
	for i := range v {
		if i < d.degree {
			v[i] = d.begin[i] << (sobolDigits - 1 - i)
			continue
		}
		v[i] = v[i-d.degree] ^ v[i-d.degree]>>d.degree
		for j := 1; j < d.degree; j++ {
			if d.inner>>(d.degree-1-j)&1 == 1 {
				v[i] ^= v[i-j]
			}
		}
	}
	return v
}

// sobolPoints is coordinate k of the first count points, each in its small cell
// at a random place: whole blocks of the binary tree are swapped at random
// (A. B. Owen, in Monte Carlo and Quasi-Monte Carlo Methods, Springer 1995,
// 299-317), which keeps the evenness and makes errors fall faster.
func sobolPoints(k, count int, seed uint64) []point {
	v := columns(k)
	depth := min(bits.Len(uint(count-1))+1, sobolDigits)
	var random rand.PCG
	random.Seed(seed, uint64(k))
	base := random.Uint64()
	points := make([]point, count)
	x := uint32(0)
	for i := range points {
		if i > 0 {
			x ^= v[bits.TrailingZeros(uint(i))] // in the order of Gray's code
		}
		swapped := uint32(0)
		for level := range depth {
			prefix := uint64(x) >> (sobolDigits - level) // of the block above, before swaps
			swapped = swapped<<1 | x>>(sobolDigits-1-level)&1 ^ uint32(mixed(base^(1<<level|prefix)))&1
		}
		within := float64(mixed(base+uint64(i)+1<<40)>>11) / (1 << 53)
		points[i].at = (float64(swapped) + within) / float64(uint64(1)<<depth)
	}
	return points
}

// mixed spreads the bits of a number over all 64 (G. L. Steele, D. Lea and C. H.
// Flood, OOPSLA 2014: the mixing step of their generator).
func mixed(z uint64) uint64 {
	z += 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// directions are sorted by degree; TestDirections says where they come from.
var directions = []direction{
	{1, 0, []uint32{1}},
	{2, 1, []uint32{1, 1}},
	{3, 1, []uint32{1, 1, 1}},
	{3, 2, []uint32{1, 1, 3}},
	{4, 1, []uint32{1, 1, 3, 11}},
	{4, 4, []uint32{1, 1, 1, 1}},
	{5, 2, []uint32{1, 1, 3, 11, 19}},
	{5, 4, []uint32{1, 3, 1, 5, 21}},
	{5, 7, []uint32{1, 1, 7, 11, 17}},
	{5, 11, []uint32{1, 1, 5, 3, 1}},
	{5, 13, []uint32{1, 1, 3, 5, 9}},
	{5, 14, []uint32{1, 1, 3, 11, 7}},
	{6, 1, []uint32{1, 1, 7, 7, 25, 39}},
	{6, 13, []uint32{1, 3, 5, 15, 27, 47}},
	{6, 16, []uint32{1, 1, 1, 13, 19, 25}},
	{6, 19, []uint32{1, 3, 7, 11, 29, 63}},
	{6, 22, []uint32{1, 3, 1, 11, 27, 63}},
	{6, 25, []uint32{1, 3, 5, 13, 11, 61}},
}
