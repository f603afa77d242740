package inverter

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A MeteredPoint is a load on an inverter at which meters are held.
type MeteredPoint struct {
	Voltage     unit.Voltage // ac, rms, 50 V to 1 kV
	Real        unit.Power   // ac, 0 to 1 MW
	PowerFactor float64      // real over apparent, 0.05 to 1
	Form        float64      // rms over rectified mean of the current, 1 to 3; 0 for a sine's 1.1107; a heater on a stepped wave has 1/√D
	DC          unit.Voltage // at the inverter's input, 5 V to 1 kV
	Efficiency  float64      // at this point, 0.05 to 1
}

// A MeterView is what the meters show there.
type MeterView struct {
	Voltage     unit.Voltage  // plug-in meter
	Current     unit.Current  // plug-in meter, and a true-rms clamp on one wire
	Apparent    ApparentPower // plug-in meter, key VA
	Real        unit.Power    // plug-in meter, key W
	PowerFactor float64       // plug-in meter, key PF
	Averaging   unit.Current  // a clamp that takes the mean and is scaled for sine
	DC          unit.Current  // dc clamp at the battery
	Input       unit.Power    // dc volts times dc amperes
}

// Show returns what a plug-in meter, two kinds of ac clamp and a dc clamp show
// at a point,
//
//	I = P/(V·pf),  I_avg = 1.1107·I/form,  I_dc = P/(η·V_dc)
//
// A clamp around a whole cord shows nothing, as its two wires cancel.
//
// Definition: what each meter is made to show.
func (p MeteredPoint) Show() (MeterView, error) {
	if p.Form == 0 {
		p.Form = sineForm
	}
	err := errors.Join(
		lineVoltage(p.Voltage),
		acPower(p.Real),
		pkg.Range("power factor", p.PowerFactor, leastPF, 1, domain.One),
		pkg.Range("form factor", p.Form, 1, 3, domain.One),
		dcVoltage("dc voltage", p.DC),
		pkg.Range("efficiency", p.Efficiency, leastPF, 1, domain.One),
	)
	if err != nil {
		return MeterView{}, err
	}
	t := triangle(p.Real, p.PowerFactor)
	i := unit.Current(float64(t.Apparent) / float64(p.Voltage))
	in := p.Real / unit.Power(p.Efficiency)
	return MeterView{
		Voltage: p.Voltage, Current: i, Apparent: t.Apparent, Real: p.Real, PowerFactor: p.PowerFactor,
		Averaging: i * unit.Current(sineForm/p.Form), DC: unit.Current(float64(in) / float64(p.DC)), Input: in,
	}, nil
}

// MeanPower returns the mean power E/t (W) of an energy that a meter counted over
// a time. It knows starts, defrost and idle hours that running watts times a
// guessed duty do not; a day or more of it beats a label. Valid for 1 Wh to
// 1 GWh and 1 min to 400 days.
//
// Definition: mean power.
func MeanPower(e unit.Energy, t unit.Time) (unit.Power, error) {
	err := errors.Join(
		pkg.Range("energy", float64(e), 3600, 3.6e12, domain.WattHour),
		pkg.Range("time", float64(t), 60, mostTime, domain.Hour),
	)
	if err != nil {
		return 0, err
	}
	return unit.Power(float64(e) / float64(t)), nil
}

// ShortcutRunTime returns usable energy over dc power (s), the trade's shortcut.
// It is right for long, light loads of a usable energy that was measured at that
// power; above a tenth of the capacity in amperes lead-acid gives less, and a
// weak source cuts off earlier ([Source.RunDown]). Valid for 1 Wh to 1 GWh and
// 1 W to 10 MW.
//
// Common practice: watt-hours over watts.
func ShortcutRunTime(usable unit.Energy, dc unit.Power) (unit.Time, error) {
	err := errors.Join(
		pkg.Range("usable energy", float64(usable), 3600, 3.6e12, domain.WattHour),
		pkg.Range("dc power", float64(dc), 1, mostDC, domain.Watt),
	)
	if err != nil {
		return 0, err
	}
	return unit.Time(float64(usable) / float64(dc)), nil
}

// leastStartRatio is start over run of a single-speed compressor or pump below
// which a meter was too slow to see the start.
const leastStartRatio = 2.5

// StartRatio returns the ratio of a start's reading to the running one, both in
// amperes or both in volt-amperes, and whether it can be a start at all: a motor
// that starts on the line takes 3 to 8 times its running current for a fraction
// of a second, trade tables of starting watts have 2.4 to 4.4 times, and a meter
// that averages over a second shows 1.2 to 2 times. Below 2.5 seen is false: ask for locked-rotor amperes or an inrush clamp. Not
// for motors behind electronics, which start softly. Valid for readings of 1 mA
// or 1 mVA to 1e6, the start's not below the running one.
//
// Common practice: field experience with plug-in meters on refrigerators.
func StartRatio[T ~float64](start, running T) (ratio float64, seen bool, err error) {
	err = pkg.Range("running reading", float64(running), 1e-3, 1e6, domain.One)
	if err == nil {
		err = pkg.Range("start reading", float64(start), float64(running), math.Min(1e6, 100*float64(running)), domain.One)
	}
	if err != nil {
		return 0, false, err
	}
	ratio = float64(start) / float64(running)
	return ratio, ratio >= leastStartRatio, nil
}
