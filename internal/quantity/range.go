package quantity

import "math"

// A Range is what is known of a quantity: it lies between Low and High. A
// figure known exactly has the two equal.
type Range[T ~float64] struct {
	Low, High T
}

// Exactly returns the range that holds x alone.
func Exactly[T ~float64](x T) Range[T] { return Range[T]{x, x} }

// Mid returns the middle of the range, also where the distance of its ends is
// beyond the largest number.
func (r Range[T]) Mid() T {
	if d := r.High - r.Low; !math.IsInf(float64(d), 0) {
		return r.Low + d/2
	}
	return r.Low/2 + r.High/2
}

// Valid reports whether the two ends are numbers in order.
func (r Range[T]) Valid() bool { return r.Low <= r.High }
