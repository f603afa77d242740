package motor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// An Auxiliary is the second winding of a single-phase motor, a quarter turn
// from the main one, with what connects it:
//
//   - split-phase: Start empty, a Switch
//   - capacitor-start: a capacitor as Start, a Switch
//   - permanent-split capacitor: a capacitor as Run, no Switch
//   - capacitor-start, capacitor-run: as Start both capacitors together, one as
//     Run, a Switch
//
// The zero value is no auxiliary winding.
type Auxiliary struct {
	Turns float64         // effective turns over those of the main winding (0.1 to 10)
	R, X  unit.Resistance // its own resistance and leakage reactance, not referred
	// Start stands in series while the start switch is closed. The zero Branch
	// is a plain wire.
	Start Branch
	// Run stands in series once the switch has opened, or always where there is
	// none. Without a capacitor here the open switch disconnects the winding.
	Run Branch
	// Switch is the speed at which the start switch opens, as a share of the
	// synchronous speed (0.3 to 0.95; 0.7 to 0.8 in practice). Zero: no switch.
	Switch float64
}

// A Branch is what stands in series with an auxiliary winding.
type Branch struct {
	Capacitance unit.Capacitance // 0.1 µF to 100 mF. Zero: no capacitor
	Resistance  unit.Resistance  // of the capacitor, or of a starting resistor
}

// impedance is R + 1/(j2πfC) (Ω) at a frequency (Hz).
func (b Branch) impedance(f float64) complex128 {
	if b.Capacitance == 0 {
		return complex(float64(b.Resistance), 0)
	}
	return complex(float64(b.Resistance), -1/(2*math.Pi*f*float64(b.Capacitance)))
}

func (b Branch) ok() bool {
	return (b.Capacitance == 0 || within(float64(b.Capacitance), leastFarad, greatestFarad)) &&
		within(float64(b.Resistance), 0, greatestOhm)
}

func (b Branch) validate(name string) error {
	var farads error
	if b.Capacitance != 0 {
		farads = pkg.Range("capacitance of the "+name+" branch", float64(b.Capacitance), leastFarad, greatestFarad, domain.Farad)
	}
	return errors.Join(farads, checkOhms("resistance of the "+name+" branch", b.Resistance, 0))
}

// branch returns what stands in series with the winding, and whether it is
// connected at all.
func (a Auxiliary) branch(n connection) (Branch, bool) {
	switch {
	case a.Turns == 0:
		return Branch{}, false
	case a.Switch != 0 && n == starting:
		return a.Start, true
	}
	return a.Run, a.Run.Capacitance != 0
}

func (a Auxiliary) ok() bool {
	if a == (Auxiliary{}) {
		return true
	}
	return within(a.Turns, leastTurns, greatestTurns) &&
		within(float64(a.R), 0, greatestOhm) && within(float64(a.X), 0, greatestOhm) &&
		a.Start.ok() && a.Run.ok() && a.connects()
}

// connects reports whether the winding is used at all: by its switch, or by a
// capacitor that stays.
func (a Auxiliary) connects() bool {
	if a.Switch == 0 {
		return a.Start == Branch{} && a.Run.Capacitance != 0
	}
	return within(a.Switch, leastSwitch, greatestSwitch)
}

func (a Auxiliary) validate() error {
	if a.ok() {
		return nil
	}
	err := errors.Join(
		pkg.Range("turns of the auxiliary over those of the main winding", a.Turns, leastTurns, greatestTurns, domain.One),
		checkOhms("auxiliary winding resistance", a.R, 0), checkOhms("auxiliary winding reactance", a.X, 0),
		a.Start.validate("start"), a.Run.validate("run"),
	)
	switch {
	case a.Switch != 0:
		err = errors.Join(err, pkg.Range("speed of the start switch over synchronous speed", a.Switch, leastSwitch, greatestSwitch, domain.One))
	case a.Start != Branch{}:
		err = errors.Join(err, pkg.Invalid("start branch", "without a switch", "a switch, or the capacitor as run branch"))
	case a.Run.Capacitance == 0:
		err = errors.Join(err, pkg.Invalid("auxiliary winding", "with neither switch nor run capacitor", "one of them"))
	}
	return err
}
