package motor

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// referenceLoads are the loads of the reference runs.
func referenceLoad(name string) Load {
	switch name {
	case "quadratic":
		return CentrifugalLoad{Rated: 1.0324312, Speed: 1725 * RPM}
	case "constant":
		return ConstantLoad{Rated: 1.0324312, Rounding: 0.5}
	}
	return nil
}

func TestDynamicStart(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/start_dynamic.csv") {
		c := quarterHorse(reactance(unit.Resistance(row.Float("rc_ohm")), 14.5))
		angle := unit.Angle(0)
		if row.Text("phase") == "sin" {
			angle = -math.Pi / 2
		}
		r := RunUp{
			Circuit: c, Source: Line{Voltage: 110, Frequency: 60, Phases: 1, Impedance: complex(row.Float("source_r_ohm"), 0)},
			Load: referenceLoad(row.Text("load")), Inertia: 0.0146, FullSpeed: 0.95, Until: 3, Settle: 3,
		}
		began := time.Now()
		got, err := r.Dynamic(angle, 1e-10)
		require.NoError(t, err)
		t.Log(row.Text("case"), time.Since(began), got.Outcome)
		const why = "relative accuracy of the independent solver"
		row.Within("t_75pct_s", float64(got.SwitchOrdered), 2e-8, why)
		row.Within("t_switch_open_s", float64(got.SwitchOpen), 2e-8, why)
		row.Within("vc_left_abs_v", float64(got.CapacitorLeft), 2e-7, why)
		if row.Has("t_95pct_s") {
			row.Within("t_95pct_s", float64(got.FullSpeed), 2e-8, why)
		}
		for k, column := range []string{"i_rms_cycle1_a", "i_rms_cycle2_a", "i_rms_cycle3_a"} {
			row.Within(column, float64(got.Cycles[k].Current), 1e-8, why)
		}
		square, mean := 0.0, 0.0
		for _, c := range got.Cycles[:6] {
			square += float64(c.Current*c.Current) / 6
			mean += float64(c.Real) / 6
		}
		row.Within("i_rms_first6_a", math.Sqrt(square), 1e-8, why)
		row.Within("p_mean_first6_w", mean, 1e-8, why)
		row.Within("i_rms_to_open_a", math.Sqrt(got.SquareTimeToOpen/float64(got.SwitchOpen)), 1e-8, why)
		row.Within("energy_to_open_j", float64(got.EnergyToOpen), 2e-8, why)
		last := got.Cycles[len(got.Cycles)-1]
		row.Printed("rpm_end", float64(last.Speed/RPM))
		row.Digits("i_rms_end_a", float64(last.Current), 1.1, "a tie of rounding")
		row.Printed("p_end_w", float64(last.Real))
		r.Until = 0.2
		got, err = r.Dynamic(angle, 1e-10)
		require.NoError(t, err)
		row.Within("i_peak_a", float64(got.Peak), 1e-8, why)
		row.Within("t_peak_s", float64(got.PeakTime), 1e-6, why)
		row.Within("i_main_peak_a", float64(got.MainPeak), 5e-6, "the reference looked for this peak on a grid, and found it that much short")
	}
}

func TestDynamicClamped(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/start_clamped.csv") {
		limit := unit.Current(row.Float("limit_value") / math.Sqrt2)
		r := RunUp{
			Circuit: quarterHorse(reactance(3, 14.5)), Source: Line{Voltage: 110, Frequency: 60, Phases: 1, Limit: limit},
			Load: referenceLoad(row.Text("load")), Inertia: 0.0146, FullSpeed: 0.95, Until: 3, Settle: 6,
		}
		switch {
		case row.Text("load") == "constant":
			r.Until = 4
		case row.Float("limit_value") < 10:
			r.Until = 6
		}
		began := time.Now()
		got, err := r.Dynamic(0, 1e-8)
		require.NoError(t, err)
		t.Log(row.Text("case"), time.Since(began), got.Outcome)
		var amps, volts, mean float64
		for _, c := range got.Cycles[:6] {
			amps += float64(c.Current*c.Current) / 6
			volts += float64(c.Voltage*c.Voltage) / 6
			mean += float64(c.Real) / 6
		}
		const why = "accuracy of the independent solver, whose right-hand side has a kink"
		row.Within("v_rms_first6_v", math.Sqrt(volts), 6e-4, "the reference summed it from instants")
		row.Within("i_rms_first6_a", math.Sqrt(amps), 1e-6, why)
		row.Within("p_first6_w", mean, 3e-6, why)
		last := got.Cycles[len(got.Cycles)-1]
		row.Printed("rpm_end", float64(last.Speed/RPM))
		row.Digits("i_rms_end_a", float64(last.Current), 2, "the reference summed it from instants")
		row.Printed("i_peak_a", float64(got.Peak))
		if row.Has("t_75pct_s") {
			row.Within("t_75pct_s", float64(got.SwitchOrdered), 1e-6, why)
			row.Within("t_switch_open_s", float64(got.SwitchOpen), 1e-6, why)
		}
		for column, share := range map[string]float64{"t_50pct_s": 0.5, "t_90pct_s": 0.9, "t_95pct_s": 0.95} {
			if !row.Has(column) {
				continue
			}
			r.FullSpeed, r.Settle = share, 0
			to, err := r.Dynamic(0, 1e-8)
			require.NoError(t, err)
			row.Digits(column, float64(to.FullSpeed), 2, "the reference found it to 5e-5 s")
		}
	}
}
