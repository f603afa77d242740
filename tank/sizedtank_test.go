package tank

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestSizedTank(t *testing.T) {
	v := Vessel{Precharge: 38 * PSI, CutIn: 40 * PSI, CutOut: 60 * PSI, Atmosphere: 14.7 * PSI}
	governed := map[Governs]bool{}
	for _, r := range reftest.Rows(t, "tank/sized_tank.csv") {
		p := Practice{
			Run:          unit.Time(r.Param("run", "min")) * Minute,
			HourlyStarts: unit.Frequency(r.Param("hourly", "per h")) * PerHour,
			DailyStarts:  unit.Frequency(r.Param("daily", "per day")) * PerDay,
		}
		pump := FlowRate(r.Param("pump", "gpm")) * USGallonPerMinute
		s, err := v.Sized(pump, p, FlowRate(r.Param("use", "gal/day"))*USGallonPerDay)
		require.NoError(t, err, r.Source())
		assert.Equal(t, r.Text("governs"), s.Governs.String(), r.Source())
		governed[s.Governs] = true
		for column, got := range map[string]unit.Volume{
			"run_gal": s.Run, "hourly_gal": s.Hourly, "daily_gal": s.Daily, "volume_gal": s.Volume,
		} {
			if r.Float(column) == 0 {
				assert.Zero(t, float64(got))
				continue
			}
			r.Within(column, float64(got/USGallon), 1e-9, "a result of ten digits")
		}
	}
	assert.Len(t, governed, 3, "each demand governs somewhere")
	assert.Equal(t, "Governs(0)", Governs(0).String())
}

func TestSizedTankBounds(t *testing.T) {
	v := Vessel{Precharge: 38 * PSI, CutIn: 40 * PSI, CutOut: 60 * PSI}
	pump, use := 10*USGallonPerMinute, 300*USGallonPerDay
	good := Practice{DailyStarts: 300 * PerDay, HourlyStarts: 15 * PerHour, Run: Minute}
	_, err := v.Sized(pump, Practice{}, use)
	refused(t, err, "practice")
	for _, x := range append(notNumbers, 0, 10) {
		_, err := v.Sized(FlowRate(x), good, use)
		refused(t, err, "pump flow")
		if x != 0 {
			_, err = v.Sized(pump, good, FlowRate(10*x))
			refused(t, err, "daily use")
		}
	}
	for _, x := range append(notNumbers, 2) {
		bad := good
		bad.Run = unit.Time(x)
		_, err := v.Sized(pump, bad, use)
		refused(t, err, "run")
		bad = good
		bad.HourlyStarts = unit.Frequency(x)
		_, err = v.Sized(pump, bad, use)
		refused(t, err, "starts")
		bad = good
		bad.DailyStarts = unit.Frequency(x)
		_, err = v.Sized(pump, bad, use)
		refused(t, err, "starts")
	}
	v.Precharge = 45 * PSI
	_, err = v.Sized(pump, good, use)
	require.ErrorIs(t, err, ErrPrechargeAboveCutIn)
}

// The tank that comes out keeps every promise, and one with a hundredth less
// breaks the one that governs.
func FuzzSizedTank(f *testing.F) {
	f.Add(10.0, 1.0, 15.0, 300.0, 300.0)
	f.Add(7.0, 2.0, 0.0, 50.0, 0.0)
	f.Add(20.0, 0.0, 6.0, 0.0, 1e4)
	f.Add(math.NaN(), -1.0, math.Inf(1), 0.0, 5e-324)
	f.Fuzz(func(t *testing.T, gpm, minutes, hourly, daily, gallonsADay float64) {
		v := Vessel{Precharge: 38 * PSI, CutIn: 40 * PSI, CutOut: 60 * PSI}
		pump, use := FlowRate(gpm)*USGallonPerMinute, FlowRate(gallonsADay)*USGallonPerDay
		p := Practice{Run: unit.Time(minutes) * Minute, HourlyStarts: unit.Frequency(hourly) * PerHour, DailyStarts: unit.Frequency(daily) * PerDay}
		s, err := v.Sized(pump, p, use)
		known(t, err)
		finite(t, err, float64(s.Volume), float64(s.Drawdown))
		if err != nil {
			return
		}
		v.Volume = s.Volume
		vd, err := v.Drawdown()
		if err != nil { // a volume that no single tank has
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		require.InEpsilon(t, float64(s.Drawdown), float64(vd), 1e-12)
		sys := System{Drawdown: vd * (1 + 1e-9), Pump: pump}
		run, err := sys.ShortestRun()
		if err != nil {
			return
		}
		worst, err := sys.WorstDemand()
		require.NoError(t, err)
		require.GreaterOrEqual(t, float64(run), float64(p.Run))
		require.True(t, p.HourlyStarts == 0 || worst.Starts <= p.HourlyStarts)
		if p.DailyStarts != 0 && worst.Starts > p.DailyStarts {
			require.LessOrEqual(t, float64(use)/float64(sys.Drawdown), float64(p.DailyStarts))
		}
		require.Equal(t, s.Drawdown, max(s.Run, s.Hourly, s.Daily))
	})
}

// bank reads "85@28 44@18", gallons and psi.
func bank(t *testing.T, text string) (tanks []PipedTank) {
	t.Helper()
	for field := range strings.FieldsSeq(text) {
		gal, psi, _ := strings.Cut(field, "@")
		v, err := strconv.ParseFloat(gal, 64)
		require.NoError(t, err)
		p, err := strconv.ParseFloat(psi, 64)
		require.NoError(t, err)
		tanks = append(tanks, PipedTank{unit.Volume(v) * USGallon, unit.Pressure(p) * PSI})
	}
	return tanks
}

func TestBanks(t *testing.T) {
	for _, r := range reftest.Rows(t, "tank/tank_banks.csv") {
		b := Bank{
			Tanks: bank(t, r.Text("tanks")), Atmosphere: 14.7 * PSI,
			CutIn: unit.Pressure(r.Float("cut_in_psi")) * PSI, CutOut: unit.Pressure(r.Float("cut_out_psi")) * PSI,
		}
		vd, err := b.Drawdown()
		require.NoError(t, err, r.Source())
		r.Within("drawdown_gal", float64(vd/USGallon), 1e-10, "twelve digits of a quadrature")
		// Boyle's law for each tank, air and water.
		sum := unit.Volume(0)
		for _, p := range b.Tanks {
			one := Vessel{Volume: p.Volume, Precharge: p.Precharge, CutIn: b.CutIn, CutOut: b.CutOut, Atmosphere: b.Atmosphere}
			high, err := one.WaterLeft(b.CutOut)
			require.NoError(t, err)
			low, err := one.WaterLeft(b.CutIn)
			require.NoError(t, err)
			sum += high - low
		}
		require.InEpsilon(t, float64(sum), float64(vd), 1e-12)
	}
}

func TestBankBounds(t *testing.T) {
	good := Bank{Tanks: bank(t, "85@28 44@18"), CutIn: 30 * PSI, CutOut: 50 * PSI}
	for n, ok := range map[int]bool{0: false, 1: true, 100: true, 101: false} {
		b := good
		b.Tanks = make([]PipedTank, n)
		for i := range b.Tanks {
			b.Tanks[i] = good.Tanks[0]
		}
		_, err := b.Drawdown()
		assert.Equal(t, ok, err == nil, n)
		if !ok {
			refused(t, err, "tanks")
		}
	}
	for _, x := range append(notNumbers, 0, 85) {
		b := good
		b.Tanks = []PipedTank{good.Tanks[0], {unit.Volume(x), 28 * PSI}}
		_, err := b.WaterLeft(40 * PSI)
		refused(t, err, "volume")
		b.Tanks = []PipedTank{good.Tanks[0], {USGallon, unit.Pressure(x)}}
		_, err = b.Drawdown()
		refused(t, err, "precharge")
		b = good
		b.CutIn = unit.Pressure(x)
		_, err = b.Drawdown()
		refused(t, err, "cut-in")
	}
	for _, x := range append(notNumbers, 40) {
		_, err := good.WaterLeft(unit.Pressure(x))
		refused(t, err, "tank pressure")
	}
	// Both above cut-in: dry before the pump starts.
	b := good
	b.Tanks = bank(t, "85@35 44@40")
	_, err := b.Drawdown()
	var e *PrechargeError
	require.ErrorAs(t, err, &e)
	assert.Equal(t, 35*PSI, e.Precharge)
	usable, err := b.WaterLeft(b.CutOut)
	require.NoError(t, err)
	assert.Equal(t, usable, e.Usable)
}

// Tanks of one precharge are one tank; one more tank never gives less.
func FuzzBank(f *testing.F) {
	f.Add(85.0, 28.0, 44.0, 18.0, 30.0, 50.0)
	f.Add(20.0, 38.0, 119.0, 60.0, 40.0, 60.0)
	f.Add(math.NaN(), math.Inf(1), -1.0, 0.0, 5e-324, 1e300)
	f.Fuzz(func(t *testing.T, v1, p1, v2, p2, in, out float64) {
		one := PipedTank{unit.Volume(v1) * USGallon, unit.Pressure(p1) * PSI}
		two := PipedTank{unit.Volume(v2) * USGallon, unit.Pressure(p2) * PSI}
		b := Bank{Tanks: []PipedTank{one, two}, CutIn: unit.Pressure(in) * PSI, CutOut: unit.Pressure(out) * PSI}
		require.Equal(t, b.ok(), b.Validate() == nil)
		both, err := b.Drawdown()
		known(t, err)
		finite(t, err, float64(both))
		b.Tanks = b.Tanks[:1]
		alone, aloneErr := b.Drawdown()
		known(t, aloneErr)
		if err != nil || aloneErr != nil {
			return
		}
		require.GreaterOrEqual(t, float64(both), float64(alone)*(1-1e-12))
		v := Vessel{Volume: one.Volume, Precharge: one.Precharge, CutIn: b.CutIn, CutOut: b.CutOut}
		single, err := v.Drawdown()
		require.NoError(t, err)
		require.InDelta(t, float64(single), float64(alone), 1e-12*float64(v.Volume))
	})
}
