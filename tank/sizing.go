package tank

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// Bounds of what a tank is sized for. A forgotten unit falls outside: 6 for 6
// starts an hour is 6 Hz, 2 for 2 min is 2 s.
const (
	leastRun    = 10 * unit.Time(1)
	mostRun     = 1 * Hour
	leastStarts = 1 * PerDay
	mostStarts  = 60 * PerHour
)

func startsOK(n unit.Frequency) bool { return n >= leastStarts && n <= mostStarts }

func startsRange(n unit.Frequency) error {
	return pkg.Range("starts", float64(n), float64(leastStarts), float64(mostStarts), startUnit)
}

// DrawdownForRun returns the drawdown that keeps a pump running for a least
// time,
//
//	Vd = Q·t
//
// where Q is the pump's flow (m³/s) and t is the run (s), 10 s to 1 h. It
// grants the run, not the rest: see [System.ShortestRun]. Outside the ranges
// err wraps [ErrDomain].
//
// Source: water balance of the tank; the installers' rule of one or two
// minutes of pump flow.
func DrawdownForRun(pump FlowRate, run unit.Time) (unit.Volume, error) {
	err := errors.Join(pumpRange(pump),
		pkg.Range("run", float64(run), float64(leastRun), float64(mostRun), domain.Minute))
	if err != nil {
		return 0, err
	}
	return unit.Volume(float64(pump) * float64(run)), nil
}

// DrawdownForStarts returns the drawdown that keeps a pump at or below a
// number of starts, whatever the demand,
//
//	Vd = Q/(4·N)
//
// where Q is the pump's flow (m³/s) and N is the most starts (Hz), 6*PerHour
// or 100*PerDay, from 1 a day to 60 an hour. With Q in gal/min and N an hour
// it reads 15·Q/N. A limit a day counts the worst demand for the whole day; a
// household draws for a few hours. Outside the ranges err wraps [ErrDomain].
//
// Source: Washington State Department of Health, Water System Design Manual
// (2009), kernel of equation 11-1.
func DrawdownForStarts(pump FlowRate, starts unit.Frequency) (unit.Volume, error) {
	if !(pumpOK(pump) && startsOK(starts)) {
		return 0, errors.Join(pumpRange(pump), startsRange(starts))
	}
	return unit.Volume(float64(pump) / (4 * float64(starts))), nil
}

// VolumeFor returns the tank volume that gives a drawdown at the precharge
// and switch pressures of v,
//
//	V = Vd/f
//
// where f is v.AcceptanceFactor(). v.Volume is not used and may be zero. The
// drawdown is at least 1 mL and the result is not capped: it may take several
// tanks. Errors are those of [Vessel.AcceptanceFactor], and [ErrDomain] for
// the drawdown.
//
// Source: Boyle's law, see [Vessel.Drawdown].
func (v Vessel) VolumeFor(drawdown unit.Volume) (unit.Volume, error) {
	f, err := v.AcceptanceFactor()
	err = errors.Join(err,
		pkg.Range("drawdown", float64(drawdown), float64(leastAir), float64(mostVolume), domain.USGallon))
	if err != nil {
		return 0, err
	}
	return drawdown / unit.Volume(f), nil
}

// A DesignTank holds what the state design form asks for a conventional tank
// whose air is kept at cut-in with the water at the outlet.
type DesignTank struct {
	// Pump is the flow of the largest pump, at mid-pressure.
	Pump FlowRate
	// Cycles is the most pump cycles, 6*PerHour in the manuals.
	Cycles unit.Frequency
	// CutIn and CutOut are the switch pressures, gauge.
	CutIn, CutOut unit.Pressure
	// Seal multiplies the volume for the water seal that a horizontal tank
	// keeps over its outlet, 1 to 3. Zero: none, 1.
	Seal float64
	// Atmosphere is the absolute air pressure. Zero: standard, at sea level;
	// the form prints 14.7 psi.
	Atmosphere unit.Pressure
}

// Volume returns the tank's volume by the design form,
//
//	Vt = (P1 + Pa)·Qp·MF/[4·(P1 − P2)·Nc]
//
// where P1 is d.CutOut and P2 is d.CutIn (Pa, gauge), Pa is the atmosphere
// (Pa), Qp is d.Pump (m³/s), MF is d.Seal and Nc is d.Cycles (Hz). With Qp in
// gal/min and Nc an hour, 1/4 becomes 15. It is [DrawdownForStarts] over the
// acceptance factor of a tank with its precharge at cut-in. Outside the ranges
// err wraps [ErrDomain].
//
// Source: Washington State Department of Health, Water System Design Manual
// (2009), equation 11-1.
func (d DesignTank) Volume() (unit.Volume, error) {
	mf := d.Seal
	if mf == 0 {
		mf = 1
	}
	if !(mf >= 1 && mf <= 3 && pumpOK(d.Pump) && startsOK(d.Cycles) && switchOK(d.CutIn, d.CutOut, d.Atmosphere)) {
		return 0, errors.Join(pumpRange(d.Pump), startsRange(d.Cycles), switchFaults(d.CutIn, d.CutOut, d.Atmosphere),
			pkg.Range("seal factor", mf, 1, 3, domain.One))
	}
	p1, p2, pa := float64(d.CutOut), float64(d.CutIn), float64(ambient(d.Atmosphere))
	return unit.Volume((p1 + pa) * float64(d.Pump) * mf / (4 * (p1 - p2) * float64(d.Cycles))), nil
}

// GrossVolume returns the least gross volume of a public system's tank, ten
// times what its largest pump delivers in a minute,
//
//	V = 10 min · Q
//
// where Q is the pump's flow (m³/s). At 40/60 psi it grants a run of about 2.6
// minutes. Outside the range of [System].Pump err wraps [ErrDomain].
//
// Source: Recommended Standards for Water Works (Ten States Standards), 7.2.2.
func GrossVolume(pump FlowRate) (unit.Volume, error) {
	if err := pumpRange(pump); err != nil {
		return 0, err
	}
	return unit.Volume(10 * float64(Minute) * float64(pump)), nil
}
