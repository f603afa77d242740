package motor

import (
	"errors"
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// pumpStart is the quarter-horsepower motor on a stiff source with a pump.
func pumpStart(v unit.Voltage) RunUp {
	return RunUp{
		Circuit: quarterHorse(reactance(3, 14.5)), Source: Line{Voltage: v, Frequency: 60, Phases: 1}, Inertia: 0.0146,
		Load: CentrifugalLoad{Rated: 0.8, Speed: 1710 * RPM, Breakaway: 0.15}, FullSpeed: 1700.0 / 1800,
	}
}

func TestQuasiSteadyStart(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/start_quasi.csv") {
		r := pumpStart(unit.Voltage(row.Float("v")))
		r.Inertia = Inertia(row.Float("j_kgm2"))
		got, err := r.QuasiSteady()
		require.NoError(t, err)
		if row.Text("quantity") == "hangs" {
			assert.Equal(t, HangsRunning, got.Outcome)
			assert.Less(t, float64(got.Speed/RPM), 1700.0)
			continue
		}
		figures := map[string]float64{
			"switch": float64(got.SwitchOpen), "full speed": float64(got.FullSpeed),
			"energy": float64(got.Energy), "square time": got.SquareTime,
		}
		row.Expected(figures[row.Text("quantity")])
	}
}

// The two models of a start check each other: the dynamic one builds up the
// flux first, which takes it a cycle or less, and 1 % more energy.
func TestQuasiSteadyAgainstDynamic(t *testing.T) {
	for _, load := range []string{"none", "quadratic", "constant"} {
		for _, ohms := range []complex128{0, 1, 0.5 + 0.5i} {
			r := RunUp{
				Circuit: quarterHorse(reactance(3, 14.5)), Inertia: 0.0146, Load: referenceLoad(load),
				Source: Line{Voltage: 110, Frequency: 60, Phases: 1, Impedance: ohms},
			}
			quasi, err := r.QuasiSteady()
			require.NoError(t, err)
			dynamic, err := r.Dynamic(0, 1e-8)
			require.NoError(t, err)
			assert.Equal(t, Starts, quasi.Outcome)
			assert.Equal(t, Starts, dynamic.Outcome)
			assert.InEpsilon(t, float64(dynamic.SwitchOrdered), float64(quasi.SwitchOpen), 0.012, "%s %v", load, ohms)
			assert.InEpsilon(t, float64(dynamic.FullSpeed), float64(quasi.FullSpeed), 0.012, "%s %v", load, ohms)
			assert.InEpsilon(t, float64(dynamic.Energy), float64(quasi.Energy), 0.012, "%s %v", load, ohms)
			assert.InEpsilon(t, dynamic.SquareTime, quasi.SquareTime, 0.02, "%s %v", load, ohms)
		}
	}
}

// A feeder is the same impedance as a source's own, but for where terminals are.
func TestFeederIsSource(t *testing.T) {
	z := 0.7 + 0.3i
	behind := pumpStart(110)
	behind.Source = Line{Voltage: 110, Frequency: 60, Phases: 1, Impedance: z}
	along := pumpStart(110)
	along.Feeder = z
	a, err := behind.QuasiSteady()
	require.NoError(t, err)
	b, err := along.QuasiSteady()
	require.NoError(t, err)
	assert.InEpsilon(t, float64(a.FullSpeed), float64(b.FullSpeed), 1e-9)
	assert.InEpsilon(t, float64(a.LeastVoltage), float64(b.LeastVoltage), 1e-9)
	assert.InEpsilon(t, float64(a.Energy)+real(z)*a.SquareTime, float64(b.Energy), 1e-9)
	c, err := behind.Dynamic(0, 1e-9)
	require.NoError(t, err)
	d, err := along.Dynamic(0, 1e-9)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(c.FullSpeed), float64(d.FullSpeed), 1e-9)
	assert.InEpsilon(t, float64(c.LeastVoltage), float64(d.LeastVoltage), 1e-7)
	assert.InEpsilon(t, float64(c.Energy)+real(z)*c.SquareTime+dynamicStored(z, d), float64(d.Energy), 1e-7)
}

// dynamicStored is what the inductance of the feeder holds at full speed.
func dynamicStored(z complex128, d DynamicResult) float64 {
	i := float64(d.Last.Current)
	return imag(z) / (2 * math.Pi * 60) * i * i / 2
}

func TestOutcomes(t *testing.T) {
	outcome := func(change func(*RunUp)) RunUpResult {
		t.Helper()
		r := pumpStart(110)
		r.FullSpeed = 0
		change(&r)
		got, err := r.QuasiSteady()
		require.NoError(t, err)
		return got
	}
	assert.Equal(t, Starts, outcome(func(*RunUp) {}).Outcome)

	hums := outcome(func(r *RunUp) { r.Source = Line{Voltage: 15, Frequency: 60, Phases: 1} })
	assert.Equal(t, StandsStill, hums.Outcome)
	assert.Zero(t, hums.Speed)
	assert.Zero(t, hums.SwitchOpen)
	assert.Greater(t, float64(hums.First.Current), 2.0)

	dead := outcome(func(r *RunUp) {
		r.Circuit = SinglePhaseCircuit{Voltage: 110, Frequency: 60, Poles: 4, R1: 2.02, X1: 2.79, R2: 4.12, X2: 2.12, Xm: 66.8}
	})
	assert.Equal(t, StandsStill, dead.Outcome, "no auxiliary winding")

	hangs := outcome(func(r *RunUp) {
		r.Source = Line{Voltage: 110, Frequency: 60, Phases: 1, Limit: 4.24}
		r.Load, r.Until = referenceLoad("quadratic"), 60
	})
	assert.Equal(t, HangsOnStart, hangs.Outcome)
	assert.Positive(t, float64(hangs.Speed))

	falls := outcome(func(r *RunUp) { r.Load = ConstantLoad{Rated: 2.8} })
	assert.Equal(t, HangsRunning, falls.Outcome, "above the breakdown torque of the main winding")
	assert.Positive(t, float64(falls.SwitchOpen))

	slow := outcome(func(r *RunUp) { r.Inertia = 5 })
	assert.Equal(t, TimesOut, slow.Outcome)

	trips := outcome(func(r *RunUp) { r.Source = tripping{Line{Voltage: 110, Frequency: 60, Phases: 1}, 0.2} })
	assert.Equal(t, SourceGaveUp, trips.Outcome)
	require.ErrorIs(t, trips.Cause, errTrip)
	assert.InDelta(t, 0.2, float64(trips.End), 1e-3)
	assert.Positive(t, float64(trips.Energy))

	never := outcome(func(r *RunUp) { r.Source = tripping{Line{Voltage: 110, Frequency: 60, Phases: 1}, -1} })
	assert.Equal(t, SourceGaveUp, never.Outcome)
	assert.Zero(t, never.Energy)
}

// tripping is a source that switches off.
type tripping struct {
	Line

	at unit.Time
}

var errTrip = errors.New("tripped")

func (s tripping) Under(z complex128, after unit.Time) (unit.Voltage, unit.Frequency, error) {
	if after > s.at {
		return 0, 0, errTrip
	}
	return s.Line.Under(z, after)
}

// What must hold for any start: the rotor of an unloaded one heats by ½Jω²
// whatever the torque, times and energies go with the inertia, and without load
// the energy does not know the voltage.
func FuzzStartLaws(f *testing.F) {
	f.Add(110.0, 0.0146, 3.0, 14.5, 0.8)
	f.Add(80.0, 0.003, 9.0, 30.0, 0.3)
	f.Add(130.0, 0.2, 0.5, 10.0, 1.2)
	f.Fuzz(func(t *testing.T, volts, j, rc, xc, load float64) {
		if !(volts >= 60 && volts <= 140 && j >= 1e-3 && j <= 0.3 && rc >= 0 && rc <= 10 && xc >= 8 && xc <= 40 && load >= 0.01 && load <= 1.2) {
			t.Skip()
		}
		c := quarterHorse(reactance(unit.Resistance(rc), xc))
		free := RunUp{Circuit: c, Source: Line{Voltage: unit.Voltage(volts), Frequency: 60, Phases: 1}, Inertia: Inertia(j), Until: 600}
		a, err := free.QuasiSteady()
		require.NoError(t, err)
		require.Equal(t, Starts, a.Outcome)
		ws := synchronous(60, 4)
		// Main-winding motors lose more than a balanced field: the backward field
		// heats too. The balance of energy is exact.
		kinetic := j * (0.9 * ws) * (0.9 * ws) / 2
		assert.InEpsilon(t, float64(a.Energy), kinetic+float64(a.StatorHeat+a.RotorHeat), 1e-6)
		twice := free
		twice.Inertia *= 2
		b, err := twice.QuasiSteady()
		require.NoError(t, err)
		assert.InEpsilon(t, 2*float64(a.FullSpeed), float64(b.FullSpeed), 1e-6)
		assert.InEpsilon(t, 2*float64(a.Energy), float64(b.Energy), 1e-6)
		half := free
		half.Source = Line{Voltage: unit.Voltage(volts / 2), Frequency: 60, Phases: 1}
		h, err := half.QuasiSteady()
		require.NoError(t, err)
		assert.InEpsilon(t, float64(a.Energy), float64(h.Energy), 1e-6)
		assert.InEpsilon(t, 4*float64(a.FullSpeed), float64(h.FullSpeed), 1e-6)

		loaded := free
		loaded.Load = CentrifugalLoad{Rated: unit.Torque(load), Speed: 1710 * RPM, Breakaway: 0.15}
		l, err := loaded.QuasiSteady()
		require.NoError(t, err)
		if l.Outcome == Starts {
			assert.Greater(t, float64(l.FullSpeed), float64(a.FullSpeed), "a load never shortens a start")
		}
		behind := loaded
		behind.Feeder = 0.5
		far, err := behind.QuasiSteady()
		require.NoError(t, err)
		if far.Outcome == Starts {
			require.Equal(t, Starts, l.Outcome, "a feeder never helps")
			assert.Greater(t, float64(far.FullSpeed), float64(l.FullSpeed))
		}
	})
}

// The rotor of a motor with one field, unloaded, heats by ½Jω_s² however strong
// the motor is, and its stator R_1/R_2 times that without magnetizing current.
func TestUnloadedRotorHeat(t *testing.T) {
	for _, v := range []unit.Voltage{230, 460} {
		r := RunUp{
			Circuit: ThreePhaseCircuit{Voltage: 460, Frequency: 60, Poles: 4, R1: 0.641, X1: 1.106, R2: 0.332, X2: 0.464, Xm: greatestOhm},
			Source:  Line{Voltage: v, Frequency: 60, Phases: 3}, Inertia: 0.5, FullSpeed: 0.999, Until: 60,
		}
		got, err := r.QuasiSteady()
		require.NoError(t, err)
		require.Equal(t, Starts, got.Outcome)
		ws := synchronous(60, 4)
		heat := 0.5 * 0.5 * ws * ws * (1 - 0.001*0.001) // the last slip is not lost
		assert.InEpsilon(t, heat, float64(got.RotorHeat), 1e-6)
		assert.InEpsilon(t, heat*0.641/0.332, float64(got.StatorHeat), 1e-4)
	}
}

func TestRunUpSamples(t *testing.T) {
	r := pumpStart(110)
	r.Every, r.Settle = 0.01, 0.5
	got, err := r.QuasiSteady()
	require.NoError(t, err)
	assert.InDelta(t, float64(got.End)/0.01, float64(len(got.Samples)), 2)
	last := got.Samples[0]
	assert.InDelta(t, 0, float64(last.Time), 0)
	for _, s := range got.Samples[1:] {
		assert.Greater(t, float64(s.Time), float64(last.Time))
		assert.Equal(t, s.Time < got.SwitchOpen, s.Closed, "at %v", s.Time)
		last = s
	}
	assert.InEpsilon(t, float64(got.FullSpeed)+0.5, float64(got.End), 1e-9)
}

// The dc side of an inverter of fixed loss and efficiency takes the energy over
// it, with its loss all the while.
func TestRunUpDCSide(t *testing.T) {
	r := pumpStart(110)
	r.Every = 0.05
	r.DC = func(w unit.Power, va ApparentPower) unit.Power { return 20 + w/0.9 + 0.01*unit.Power(va) }
	got, err := r.QuasiSteady()
	require.NoError(t, err)
	assert.Greater(t, float64(got.DCEnergy), 20*float64(got.FullSpeed)+float64(got.Energy)/0.9)
	assert.Less(t, float64(got.DCEnergy), 20*float64(got.FullSpeed)+float64(got.Energy)/0.9*1.02)
	for _, s := range got.Samples {
		assert.InEpsilon(t, 20+float64(s.Real)/0.9+0.01*float64(s.Apparent), float64(s.DC), 1e-12)
		assert.LessOrEqual(t, float64(s.DC), float64(got.GreatestDC)*(1+1e-3))
	}
}

// Whatever the instant at which a source gives up, that is the answer.
func TestSourceGivesUpAnywhere(t *testing.T) {
	for k := range 200 {
		r := pumpStart(110)
		r.Load, r.Until = ConstantLoad{Rated: 2.5}, 3
		at := unit.Time(0.003 + 0.0017*float64(k))
		r.Source = tripping{Line{Voltage: 110, Frequency: 60, Phases: 1}, at}
		got, err := r.QuasiSteady()
		require.NoError(t, err, at)
		require.Equal(t, SourceGaveUp, got.Outcome)
		require.InDelta(t, float64(at), float64(got.End), 1e-3)

		weak := pumpStart(110)
		weak.Load = ConstantLoad{Rated: unit.Torque(0.5 + 0.015*float64(k))}
		weak.Source = Generator{
			Rating: 1500, Power: 1200, Voltage: 110, Frequency: 60, Phases: 1,
			Subtransient: 0.15, Transient: 0.25, Decay: 0.02, Recovery: 0.5, Droop: 0.05,
		}
		_, err = weak.QuasiSteady()
		require.NoError(t, err, k)
	}
}

// Any start that is accepted ends with an outcome and with numbers.
func FuzzRunUpEnds(f *testing.F) {
	f.Add(110.0, 0.0146, 0.8, 0.15, 0.5, 0.0, 2000.0, 0)
	f.Add(60.0, 1e-4, 3.0, 0.2, 5.0, 4.0, 900.0, 1)
	f.Add(115.0, 2.0, 0.4, 0.0, 0.0, 30.0, 5000.0, 2)
	f.Fuzz(func(t *testing.T, volts, j, torque, breakaway, ohms, limit, rating float64, kind int) {
		r := RunUp{
			Circuit: quarterHorse(reactance(3, 14.5)), Inertia: Inertia(j), Feeder: complex(ohms, 0), Until: 5,
			Source: Line{Voltage: unit.Voltage(volts), Frequency: 60, Phases: 1, Limit: unit.Current(limit)},
			Load:   CentrifugalLoad{Rated: unit.Torque(torque), Speed: 1710 * RPM, Breakaway: breakaway},
		}
		switch kind {
		case 1:
			r.Load = ConstantLoad{Rated: unit.Torque(torque), Breakaway: breakaway}
		case 2:
			r.Circuit = sixPoles()
			r.Source = Line{Voltage: unit.Voltage(volts), Frequency: 60, Phases: 3, Limit: unit.Current(limit)}
		case 3:
			r.Source = Generator{
				Rating: ApparentPower(rating), Power: unit.Power(0.8 * rating), Voltage: unit.Voltage(volts), Frequency: 60, Phases: 1,
				Subtransient: 0.15, Transient: 0.25, Decay: 0.02, Recovery: 0.5, Droop: 0.05,
			}
		}
		got, err := r.QuasiSteady()
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.NotZero(t, got.Outcome)
		require.Equal(t, got.Outcome == Starts, got.FullSpeed > 0)
		require.Equal(t, got.Outcome == SourceGaveUp, got.Cause != nil && got.FullSpeed == 0)
		for _, x := range []float64{
			float64(got.End), float64(got.Speed), float64(got.LeastVoltage), float64(got.GreatestCurrent),
			float64(got.Energy), got.SquareTime, float64(got.StatorHeat), float64(got.RotorHeat), float64(got.Last.Torque),
		} {
			require.True(t, finite(x))
		}
		require.GreaterOrEqual(t, float64(got.Speed), 0.0)
	})
}

// pickySource trips, and refuses what is no impedance.
type pickySource struct{ tripping }

var errNoLoad = errors.New("not a load")

func (s pickySource) Under(load complex128, after unit.Time) (unit.Voltage, unit.Frequency, error) {
	if cmplx.IsNaN(load) {
		return 0, 0, errNoLoad
	}
	return s.tripping.Under(load, after)
}

// What made the source give up is what is told, not what it says of the step
// that this breaks off.
func TestCauseOfASourceThatGivesUp(t *testing.T) {
	for at := unit.Time(0.11); at < 0.3; at += 0.0073 {
		r := pumpStart(110)
		r.FullSpeed = 0
		r.Source = pickySource{tripping{Line{Voltage: 110, Frequency: 60, Phases: 1}, at}}
		got, err := r.QuasiSteady()
		require.NoError(t, err)
		require.Equal(t, SourceGaveUp, got.Outcome)
		require.ErrorIs(t, got.Cause, errTrip)
		require.InDelta(t, float64(at), float64(got.End), 1e-5)
	}
}
