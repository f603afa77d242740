package tank

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestStartsPractice(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/starts_practice.csv") {
		for _, hp := range []float64{r.Float("from_hp"), r.Float("to_hp")} {
			p, err := PracticeFor(unit.Power(hp)*Horsepower, int(r.Float("phases")))
			require.NoError(t, err, r.Source())
			r.Printed("value", map[string]float64{
				"daily_starts":  float64(p.DailyStarts / PerDay),
				"hourly_starts": float64(p.HourlyStarts / PerHour),
				"run_min":       float64(p.Run / Minute),
			}[r.Text("quantity")])
		}
	}
}

// A larger motor is never allowed more, nor one phase more than three.
func TestPracticeIsMonotone(t *testing.T) {
	last := map[int]Practice{1: {DailyStarts: 1, HourlyStarts: 1}, 3: {DailyStarts: 1, HourlyStarts: 1}}
	for hp := 0.1; hp <= 30; hp += 0.05 {
		for _, phases := range []int{1, 3} {
			p, err := PracticeFor(unit.Power(hp)*Horsepower, phases)
			require.NoError(t, err)
			assert.LessOrEqual(t, float64(p.DailyStarts), float64(last[phases].DailyStarts))
			assert.LessOrEqual(t, float64(p.HourlyStarts), float64(last[phases].HourlyStarts))
			assert.GreaterOrEqual(t, float64(p.Run), float64(last[phases].Run))
			last[phases] = p
		}
		assert.LessOrEqual(t, float64(last[1].DailyStarts), float64(last[3].DailyStarts))
	}
}

func TestPracticeBounds(t *testing.T) {
	for _, x := range append(notNumbers, 0, 0.5, 1, float64(30.1*Horsepower)) {
		_, err := PracticeFor(unit.Power(x), 1)
		refused(t, err, "motor output")
	}
	for _, phases := range []int{0, 2, -1, 4} {
		_, err := PracticeFor(1*Horsepower, phases)
		refused(t, err, "phases")
	}
}
