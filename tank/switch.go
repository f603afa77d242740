package tank

import (
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A PressureSwitch starts the pump at one pressure and stops it at another,
// both gauge. What the tank makes of them is a [Vessel]'s matter.
type PressureSwitch struct {
	CutIn, CutOut unit.Pressure // gauge (Pa)
}

// FactorySwitches returns the settings that switches are sold with: 20/40,
// 30/50 and 40/60 psi, each with the usual differential of 20 psi.
//
// Common practice: a plumber's page on pressure switches.
func FactorySwitches() [3]PressureSwitch {
	return [3]PressureSwitch{{20 * PSI, 40 * PSI}, {30 * PSI, 50 * PSI}, {40 * PSI, 60 * PSI}}
}

// Differential returns how far cut-out is above cut-in,
//
//	Δp = Poff − Pon
//
// A wider one gives more drawdown and fewer starts, each with a longer run.
//
// Definition: the difference of the two pressures.
func (s PressureSwitch) Differential() unit.Pressure { return s.CutOut - s.CutIn }

// ShutOff returns the pressure that the pump is to reach at the switch with
// all outlets closed: cut-out and a margin,
//
//	P = Poff + 5 psi, better + 10 psi
//
// A pump that wears, or whose well's level falls, falls below cut-out: it then
// never stops and drains a battery, see [ErrNeverStops].
//
// Valid for the switch pressures of [Vessel]; otherwise err wraps [ErrDomain].
//
// Common practice: two columns of one trade journal, which differ.
func (s PressureSwitch) ShutOff() (Range[unit.Pressure], error) {
	if err := switchFaults(s.CutIn, s.CutOut, 0); err != nil {
		return Range[unit.Pressure]{}, err
	}
	return Range[unit.Pressure]{Low: s.CutOut + 5*PSI, High: s.CutOut + 10*PSI}, nil
}

// Customs of tanks and switches.
const (
	// UsualDifferential is that of most switches.
	UsualDifferential = 20 * PSI
	// LargestTank is the largest captive-air tank that is common: 120 gal and
	// more count as another class when carried.
	LargestTank = 119 * USGallon
	// MostFactoryPrecharge is the most that a tank leaves the factory with.
	MostFactoryPrecharge = 40 * PSI
	// ShortClick is the time between two clicks of the switch at and below
	// which a pump short-cycles.
	ShortClick = unit.Time(30)
)

// WorkingPressures returns the range of pressures to which residential tanks
// are labelled. The tank at hand is good for what stands on its own label.
//
// Common practice: text of a residential pressure tank standard, in a copy.
func WorkingPressures() Range[unit.Pressure] {
	return Range[unit.Pressure]{Low: 75 * PSI, High: 150 * PSI}
}

// Short reports whether the pump short-cycles: it runs or rests for 30 s or
// less. A lost air charge is the usual cause, see [Waterlogged].
//
// Common practice: a plumber's page on pressure switches.
func (c Cycle) Short() bool { return c.On <= ShortClick || c.Off <= ShortClick }

// TanksFor returns how many tanks of the largest common size a volume takes,
//
//	n = ⌈V/119 gal⌉
//
// where V is the volume (m³), as [Vessel.VolumeFor] returns it.
//
// Valid for 1 mL to 100 m³; otherwise err wraps [ErrDomain].
//
// Common practice: see [LargestTank].
func TanksFor(volume unit.Volume) (int, error) {
	if err := pkg.Range("volume", float64(volume), float64(leastAir), 100, domain.USGallon); err != nil {
		return 0, err
	}
	n := int(volume / LargestTank)
	if unit.Volume(n)*LargestTank < volume {
		n++
	}
	return n, nil
}
