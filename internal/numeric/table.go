package numeric

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/interp"
)

// A Table is a published table of y against x, read by straight lines between
// its points and refused outside them: gonum's interpolators hold the last
// value there, which for a standard's table would be an invented figure.
type Table struct {
	lo, hi float64
	line   interp.PiecewiseLinear
}

// NewTable makes a table from points with x ascending. It panics on anything
// else, numbers that are not finite among it, as it is meant for tables that
// stand in the code.
func NewTable(x, y []float64) Table {
	for _, v := range slices.Concat(x, y) {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			panic(fmt.Sprintf("numeric: table holds %v", v))
		}
	}
	x, y = slices.Clone(x), slices.Clone(y)
	t := Table{lo: x[0], hi: x[len(x)-1]}
	if err := t.line.Fit(x, y); err != nil {
		panic(err)
	}
	return t
}

// At returns y at x, and false outside the table and for NaN.
func (t *Table) At(x float64) (y float64, ok bool) {
	if !(x >= t.lo && x <= t.hi) {
		return 0, false
	}
	return t.line.Predict(x), true
}

// Bounds returns the least and the greatest x of the table.
func (t *Table) Bounds() (lo, hi float64) { return t.lo, t.hi }
