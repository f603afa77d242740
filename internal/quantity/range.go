package quantity

// A Range is what is known of a quantity: it lies between Low and High. A
// figure known exactly has the two equal.
type Range[T ~float64] struct {
	Low, High T
}

// Exactly returns the range that holds x alone.
func Exactly[T ~float64](x T) Range[T] { return Range[T]{x, x} }

// Mid returns the middle of the range.
func (r Range[T]) Mid() T { return r.Low + (r.High-r.Low)/2 }

// Valid reports whether the two ends are numbers in order.
func (r Range[T]) Valid() bool { return r.Low <= r.High }
