package numeric

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The tableau as a matrix, for the order conditions.
var (
	pairA = [7][7]float64{
		{},
		{a21},
		{a31, a32},
		{a41, a42, a43},
		{a51, a52, a53, a54},
		{a61, a62, a63, a64, a65},
		{b1, 0, b3, b4, b5, b6},
	}
	pairB = [7]float64{b1, 0, b3, b4, b5, b6, 0}
	pairC = [7]float64{0, c2, c3, c4, c5, 1, 1}
	pairE = [7]float64{e1, 0, e3, e4, e5, e6, e7}
)

// A tree is a rooted tree, given by the trees that hang from its root.
type tree []tree

func (r tree) order() int {
	n := 1
	for _, c := range r {
		n += c.order()
	}
	return n
}

// gamma is the density of the tree.
func (r tree) gamma() float64 {
	g := float64(r.order())
	for _, c := range r {
		g *= c.gamma()
	}
	return g
}

// stages is the elementary weight of the tree at each stage.
func (r tree) stages() (phi [7]float64) {
	for i := range phi {
		phi[i] = 1
	}
	for _, c := range r {
		inner := c.stages()
		for i := range phi {
			sum := 0.0
			for j := range inner {
				sum += pairA[i][j] * inner[j]
			}
			phi[i] *= sum
		}
	}
	return phi
}

func (r tree) weight(b [7]float64) (sum float64) {
	for i, phi := range r.stages() {
		sum += b[i] * phi
	}
	return sum
}

// trees returns all rooted trees of an order, of 1, 1, 2, 4, 9 and 20.
func trees(order int) []tree {
	// Forests of n nodes whose trees come no later than the last of the list.
	var forests func(n int, list []tree) []tree
	forests = func(n int, list []tree) (out []tree) {
		if n == 0 {
			return []tree{{}}
		}
		for i, first := range list {
			if k := first.order(); k <= n {
				for _, rest := range forests(n-k, list[:i+1]) {
					out = append(out, append(tree{first}, rest...))
				}
			}
		}
		return out
	}
	var smaller []tree
	for k := 1; k < order; k++ {
		smaller = append(smaller, trees(k)...)
	}
	return forests(order-1, smaller)
}

// A method has order p where, for each rooted tree of up to p nodes, the weight
// of the tree is the inverse of its density (J. C. Butcher, 1963).
func TestOrderConditions(t *testing.T) {
	var embedded [7]float64
	for i := range embedded {
		embedded[i] = pairB[i] - pairE[i]
	}
	for order, count := range map[int]int{1: 1, 2: 1, 3: 2, 4: 4, 5: 9, 6: 20} {
		all := trees(order)
		assert.Len(t, all, count)
		worst, worstEmbedded := 0.0, 0.0
		for _, r := range all {
			worst = max(worst, math.Abs(r.weight(pairB)-1/r.gamma()))
			worstEmbedded = max(worstEmbedded, math.Abs(r.weight(embedded)-1/r.gamma()))
		}
		if order <= 5 {
			assert.LessOrEqual(t, worst, 1e-15, order)
		} else {
			assert.Greater(t, worst, 1e-5, order)
		}
		if order <= 4 {
			assert.LessOrEqual(t, worstEmbedded, 1e-15, order)
		} else {
			assert.Greater(t, worstEmbedded, 1e-5, order)
		}
	}
	for i, row := range pairA {
		sum := 0.0
		for _, a := range row {
			sum += a
		}
		assert.InDelta(t, pairC[i], sum, 2e-15, "stage %d", i)
	}
}

// The polynomial has order 4 at every place, meets both ends of the step, and
// has the slopes of the solution there.
func TestDensePolynomial(t *testing.T) {
	for i := range 33 {
		theta := float64(i) / 32
		b := weights(theta)
		for order := 1; order <= 4; order++ {
			for _, r := range trees(order) {
				want := math.Pow(theta, float64(order)) / r.gamma()
				assert.InDelta(t, want, r.weight(b), 3e-15, "%v %v", theta, r)
			}
		}
	}
	const d = 1e-7
	for i := range 7 {
		assert.InDelta(t, 0, weights(0)[i], 0)
		assert.InDelta(t, pairB[i], weights(1)[i], 1e-17)
		first, last := 0.0, 0.0
		if i == 0 {
			first = 1
		}
		if i == 6 {
			last = 1
		}
		assert.InDelta(t, first, weights(d)[i]/d, 1e-5)
		assert.InDelta(t, last, (weights(1 + d)[i]-weights(1 - d)[i])/(2*d), 1e-5)
	}
}
