package inverter

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func hours(row reftest.Row, name string) unit.Time { return unit.Time(row.Param(name, "h")) * Hour }

func watts(row reftest.Row, name string) unit.Power { return unit.Power(row.Param(name, "W")) }

func volts(row reftest.Row, name string) unit.Voltage { return unit.Voltage(row.Param(name, "V")) }

func TestEnergyTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/energy.csv") {
		eff := row.Param("eff", "")
		switch q := row.Text("quantity"); q {
		case "dc energy", "charge":
			l, err := Flat(5*Kilowatt, 0, eff)
			require.NoError(t, err)
			a, err := l.Use([]Run{{unit.Power(row.Param("E", "Wh")), 1 * Hour}}, 0)
			require.NoError(t, err)
			c, err := Charge(a.DC(), volts(row, "V"))
			require.NoError(t, err)
			if q == "charge" {
				row.Expected(float64(c / AmpereHour))
			} else {
				row.Expected(float64(a.DC() / WattHour))
			}
		case "charge from ac ampere-hours":
			c, err := DCCharge(unit.Charge(row.Param("Q", "Ah"))*AmpereHour, volts(row, "Vac"), volts(row, "V"), eff)
			require.NoError(t, err)
			row.Expected(float64(c / AmpereHour))
		case "ac energy of the job", "dc energy of the job", "charge of the job":
			l, err := Flat(2*Kilowatt, watts(row, "idle"), eff)
			require.NoError(t, err)
			var runs []Run
			idle := 24 * Hour
			for _, name := range []string{"pump", "blower", "refrigerator", "lights"} {
				runs = append(runs, Run{watts(row, name), hours(row, name+"_h")})
				idle -= hours(row, name+"_h")
			}
			a, err := l.Use(runs, idle)
			require.NoError(t, err)
			c, err := Charge(a.DC(), volts(row, "V"))
			require.NoError(t, err)
			switch q {
			case "ac energy of the job":
				row.Expected(float64(a.Delivered / WattHour))
			case "dc energy of the job":
				row.Expected(float64(a.DC() / WattHour))
				assert.InDelta(t, 480, float64(a.Standing/WattHour), 1e-9)
			default:
				row.Expected(float64(c / AmpereHour))
			}
		default:
			t.Fatalf("%s: no test for %q", row.Source(), q)
		}
	}
}

func TestStandbyTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/standby.csv") {
		switch q := row.Text("quantity"); q {
		case "idle energy", "idle charge":
			e, err := IdleEnergy(watts(row, "P"), hours(row, "t"))
			require.NoError(t, err)
			if q == "idle energy" {
				row.Expected(float64(e / WattHour))
				continue
			}
			c, err := Charge(e, volts(row, "V"))
			require.NoError(t, err)
			row.Expected(float64(c / AmpereHour))
		case "idle draw":
			p, err := IdleDraw(volts(row, "V"), unit.Current(row.Param("I", "A")))
			require.NoError(t, err, row.Source())
			row.Expected(float64(p))
		case "energy of starts":
			run := Run{unit.Power(row.Param("E", "J") / row.Param("t", "s")), unit.Time(row.Param("t", "s"))}
			var runs []Run
			for range int(row.Param("starts", "")) {
				runs = append(runs, run)
			}
			a, err := unit3kW.Use(runs, 0)
			require.NoError(t, err, row.Source())
			row.Expected(float64(a.Delivered / WattHour))
		case "efficiency of the day":
			a, err := perUnit(row).Use([]Run{{watts(row, "P"), hours(row, "t")}}, hours(row, "idle"))
			require.NoError(t, err)
			row.Expected(100 * a.Efficiency())
		default:
			t.Fatalf("%s: no test for %q", row.Source(), q)
		}
	}
}

func TestFieldTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/field.csv") {
		switch q := row.Text("quantity"); q {
		case "dc current":
			i, err := InputCurrent(watts(row, "P")/unit.Power(row.Param("motor_eff", "")), volts(row, "V"), row.Param("eff", ""))
			require.NoError(t, err)
			row.Expected(float64(i))
			if row.Has("claim") {
				row.Rejects("claim", float64(i), 0.2)
			}
		case "dc power":
			l, err := Flat(2*Kilowatt, 0, row.Param("eff", ""))
			require.NoError(t, err)
			p, err := l.DCPower(watts(row, "P") / unit.Power(row.Param("motor_eff", "")))
			require.NoError(t, err)
			row.Expected(float64(p))
			row.Rejects("claim", float64(p), 0.2)
		case "dc energy":
			l, err := Flat(2*Kilowatt, watts(row, "idle"), row.Param("eff", ""))
			require.NoError(t, err)
			a, err := l.Use([]Run{{watts(row, "P"), hours(row, "t")}}, 0)
			require.NoError(t, err)
			row.Expected(float64(a.DC() / WattHour))
		case "VA over dc W":
			k, err := ReadingRatio(volts(row, "Vac"), unit.Current(row.Param("Iac", "A")), volts(row, "Vdc"), unit.Current(row.Param("Idc", "A")))
			require.NoError(t, err)
			row.Expected(k)
		case "idle charge", "idle energy":
			p, err := IdleDraw(volts(row, "V"), unit.Current(row.Param("I", "A")))
			require.NoError(t, err)
			e, err := IdleEnergy(p, hours(row, "t"))
			require.NoError(t, err)
			c, err := Charge(e, volts(row, "V"))
			require.NoError(t, err)
			if q == "idle charge" {
				row.Expected(float64(c / AmpereHour))
			} else {
				row.Expected(float64(e / WattHour))
			}
		case "cable drop":
			i, err := InputCurrent(watts(row, "P"), volts(row, "V"), row.Param("eff", ""))
			require.NoError(t, err)
			s := Source{Cable: unit.Resistance(row.Param("R_cable", "ohm"))}
			row.Expected(float64(s.Drops(i).Cable))
		default:
			t.Fatalf("%s: no test for %q", row.Source(), q)
		}
	}
}

func TestUseBalance(t *testing.T) {
	runs := []Run{{1000, 12 * Minute}, {300, 2 * Hour}, {0, 1 * Hour}}
	a, err := unit3kW.Use(runs, 5*Hour)
	require.NoError(t, err)
	sum := 30.0 * 5 * 3600
	for _, r := range runs {
		dc, err := unit3kW.DCPower(r.Load)
		require.NoError(t, err)
		sum += float64(dc) * float64(r.For)
	}
	closeTo(t, sum, float64(a.DC()), 1e-12)
	closeTo(t, 30*float64(a.On), float64(a.Standing), 1e-12)
	assert.InDelta(t, 8.2, float64(a.On/Hour), 1e-12)

	none, err := unit3kW.Use(nil, 0)
	require.NoError(t, err)
	assert.Zero(t, none.Efficiency())
}

func TestEnergyBounds(t *testing.T) {
	for _, x := range strange {
		for _, r := range []Run{{unit.Power(x), 1}, {1, unit.Time(x)}} {
			_, err := unit3kW.Use([]Run{r}, 0)
			require.ErrorIs(t, err, ErrDomain)
		}
		_, err := unit3kW.Use(nil, unit.Time(x))
		require.ErrorIs(t, err, ErrDomain)
		_, err = Charge(unit.Energy(x), 12)
		require.ErrorIs(t, err, ErrDomain)
		_, err = Charge(1, unit.Voltage(x))
		require.ErrorIs(t, err, ErrDomain)
		for i := range 4 {
			a := [4]float64{1, 120, 12, 0.9}
			a[i] = x
			_, err = DCCharge(unit.Charge(a[0]), unit.Voltage(a[1]), unit.Voltage(a[2]), a[3])
			require.ErrorIs(t, err, ErrDomain)
			b := [4]float64{120, 4, 12, 40}
			b[i] = x
			_, err = ReadingRatio(unit.Voltage(b[0]), unit.Current(b[1]), unit.Voltage(b[2]), unit.Current(b[3]))
			require.ErrorIs(t, err, ErrDomain)
		}
		_, err = IdleEnergy(unit.Power(x), 1)
		require.ErrorIs(t, err, ErrDomain)
		_, err = IdleEnergy(1, unit.Time(x))
		require.ErrorIs(t, err, ErrDomain)
		_, err = Standby{Idle: 20, Search: unit.Power(x)}.Energy(1, 1)
		require.ErrorIs(t, err, ErrDomain)
		_, err = Standby{Idle: 20}.Energy(1, unit.Time(x))
		require.ErrorIs(t, err, ErrDomain)
		_, err = IdleDraw(unit.Voltage(x), 1)
		require.ErrorIs(t, err, ErrDomain)
		_, err = IdleDraw(12, unit.Current(x))
		require.ErrorIs(t, err, ErrDomain)
	}
	_, err := unit3kW.Use(nil, 400*Day)
	require.NoError(t, err)
	_, err = unit3kW.Use(nil, 401*Day)
	domainError(t, err, "idle time")
	_, err = unit3kW.Use([]Run{{1, 300 * Day}, {1, 300 * Day}}, 0)
	domainError(t, err, "time switched on")
	_, err = DCCharge(1, 12, 12, 0.9)
	domainError(t, err, "ac voltage 12 V, want 50 V to 600 V")
}

func TestStandby(t *testing.T) {
	// 2 A awake and 0.5 A in search mode at 12 V, two hours awake a day.
	s := Standby{Idle: 24, Search: 6}
	e, err := s.Energy(2*Hour, 22*Hour)
	require.NoError(t, err)
	assert.InDelta(t, 48+132, float64(e/WattHour), 1e-9)
	off := Standby{Idle: 24}
	e, err = off.Energy(2*Hour, 22*Hour)
	require.NoError(t, err)
	assert.InDelta(t, 48, float64(e/WattHour), 1e-9)
	_, err = Standby{Idle: 6, Search: 24}.Energy(1, 1)
	domainError(t, err, "search draw 24 W, want 0 W to 6 W")
	_, err = IdleEnergy(25.1e3, 1)
	domainError(t, err, "idle draw")
	// Twelve one-minute runs of a 1 kW pump take less than a day's idling.
	idle, err := IdleEnergy(20, 1*Day)
	require.NoError(t, err)
	assert.Greater(t, float64(idle), float64(1000*12*Minute))
}

// An inverter without losses loses nothing, not even in the last bits.
func TestLosslessUse(t *testing.T) {
	a, err := Loss{Rated: 2000, Idle: 11.903464081808643}.Use([]Run{{5.206932354917926, 3600}, {2017.4573745193766, 72000}}, 3600)
	require.NoError(t, err)
	assert.Zero(t, float64(a.LoadLoss))
	assert.InEpsilon(t, float64(a.Delivered+a.Standing), float64(a.DC()), 1e-15)
}
