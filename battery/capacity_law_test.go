package battery

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// The capacity law of lead-acid circuit models is the generalised rate law in
// other letters.
func TestCapacityLaw(t *testing.T) {
	for _, row := range reftest.Rows(t, "battery/capacity_law.csv") {
		kc, delta := row.Param("Kc", ""), row.Param("delta", "")
		law := RateLaw{
			Most:     unit.Charge(kc*row.Param("C0", "Ah")*row.Param("Kt", "")) * AmpereHour,
			Half:     unit.Current(row.Param("Istar", "A") / math.Pow(kc-1, 1/delta)),
			Exponent: delta,
		}
		i := rowCurrent(row)
		if i == 0 {
			row.Expected(ampereHours(law.Most))
			continue
		}
		row.Expected(ampereHours(must[unit.Charge](t)(law.Capacity(i))))
	}
}
