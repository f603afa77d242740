package battery

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// slashed reads numbers between slashes.
func slashed(t *testing.T, row reftest.Row, column string) []float64 {
	t.Helper()
	var all []float64
	for text := range strings.SplitSeq(row.Text(column), "/") {
		x, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err, row.Source())
		all = append(all, x)
	}
	return all
}

func TestSizingIndependent(t *testing.T) {
	curve := RateCurve{EndVoltage: 1.75}
	for _, p := range [][2]float64{{1, 0.89}, {30, 1.28}, {60, 1.72}, {180, 3.77}, {480, 8.26}, {1200, 19.2}} {
		curve.Points = append(curve.Points, KTPoint{unit.Time(p[0]) * Minute, unit.Time(p[1]) * Hour})
	}
	table := must[RateTable](t)(NewRateTable(curve))
	for _, row := range reftest.Rows(t, "battery/sizing_independent.csv") {
		v := unit.Voltage(row.Float("voltage_v"))
		s := Sizing{
			Rate: table, EndVoltage: 1.75, Chemistry: Flooded, Temperature: Fahrenheit(row.Float("temp_f")),
			DesignMargin: row.Float("margin"), AgingFactor: must[float64](t)(AgingFactor(row.Float("end_of_life"))),
			Cycle: DutyCycle{Voltage: Range[unit.Voltage]{Low: v, High: v + 3}},
		}
		if k, ok := strings.CutPrefix(row.Text("rate"), "peukert "); ok {
			p := hundred
			p.Exponent = must[float64](t)(strconv.ParseFloat(k, 64))
			s.Rate = p
		}
		amperes, watts, minutes := slashed(t, row, "amperes"), slashed(t, row, "watts"), slashed(t, row, "minutes")
		for i := range amperes {
			s.Cycle.Periods = append(s.Cycle.Periods, DutyPeriod{
				Current: unit.Current(amperes[i]), Power: unit.Power(watts[i]), Duration: unit.Time(minutes[i]) * Minute,
			})
		}
		if a := row.Float("random_a"); a > 0 {
			s.Cycle.Random = DutyPeriod{Current: unit.Current(a), Duration: unit.Time(row.Float("random_min")) * Minute}
		}
		w, err := s.Worksheet()
		require.NoError(t, err, row.Source())
		row.Printed("uncorrected_ah", ampereHours(w.Uncorrected))
		row.Printed("required_ah", ampereHours(w.Required))
		// The form without a worksheet says the same, to the last bit.
		require.InDelta(t, float64(w.Required), float64(must[unit.Charge](t)(s.Size())), 0, row.Source())
	}
}
