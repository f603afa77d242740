package conductor

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A RatedCurrent is an ampacity with the two temperatures that it is stated
// for. Any table gives one, and from it follows how well that conductor sheds
// its heat.
type RatedCurrent struct {
	Current   unit.Current     // Iz, the ampacity
	Conductor unit.Temperature // Tc, that the conductor then has
	Ambient   unit.Temperature // Ta, of the table: 30 °C in most, 40 °C in some
}

// Temperature estimates the temperature of the conductor at another current
// and ambient temperature,
//
//	T = Ta' + (Tc − Ta)·(I/Iz)²
//
// with the ambient temperature Ta' at hand in °C. The resistance is held at its
// value for Tc, which makes the estimate high below the rated current and low
// above it; [ThermalModel.Steady] lets it move.
//
// Valid for 0 to 3 times the rated current and −60 to 300 °C; otherwise err
// wraps [ErrDomain].
//
// Source: first-order heat balance, the law behind NEC 310.15(B) and IEC
// 60364-5-52, table B.52.14.
func (r RatedCurrent) Temperature(i unit.Current, ambient unit.Temperature) (unit.Temperature, error) {
	if err := r.check(); err != nil {
		return 0, err
	}
	if err := errors.Join(pkg.Range("current", float64(i), 0, 3*float64(r.Current), domain.Ampere), checkAmbient(ambient)); err != nil {
		return 0, err
	}
	x := float64(i) / float64(r.Current)
	return ambient + (r.Conductor-r.Ambient)*unit.Temperature(x*x), nil
}

// Loss returns the heat lost for a kelvin that a rated current implies,
//
//	G = Iz²·R(Tc)/(Tc − Ta)
//
// with the resistance R (Ω/m) of one conductor at Tc and G in W/(K·m).
//
// Valid for 1 mA to 100 kA, 1 nΩ/m to 100 Ω/m and −60 to 300 °C with Tc above
// Ta; otherwise err wraps [ErrDomain].
//
// Source: heat balance of NEC 310.14(B), used backwards.
func (r RatedCurrent) Loss(hot ResistancePerLength) (ThermalConductance, error) {
	if err := errors.Join(r.check(), checkPerLength(hot)); err != nil {
		return 0, err
	}
	i := float64(r.Current)
	return ThermalConductance(i * i * float64(hot) / float64(r.Conductor-r.Ambient)), nil
}

// Model returns the thermal model of a wire that has this rated current: its
// loss by [RatedCurrent.Loss], its heat capacity by [Metal.HeatCapacity] of the
// bare metal, its resistance by [Wire.ResistanceLaw] at the rated temperature,
// and the ambient temperature of the rating. Change the Ambient of the result
// for another one.
//
// Valid as these; otherwise err wraps [ErrDomain].
//
// Source: heat balance of NEC 310.14(B), used backwards.
func (r RatedCurrent) Model(w Wire) (ThermalModel, error) {
	law, errLaw := w.ResistanceLaw(r.Conductor)
	if err := errors.Join(r.check(), errLaw); err != nil {
		return ThermalModel{}, err
	}
	loss, err := r.Loss(law.Resistance)
	if err != nil {
		return ThermalModel{}, err
	}
	capacity, err := w.Metal.HeatCapacity(unit.Area(w.Size.area()))
	if err != nil {
		return ThermalModel{}, err
	}
	return ThermalModel{Resistance: law, HeatCapacity: capacity, Loss: loss, Ambient: r.Ambient}, nil
}

func (r RatedCurrent) check() error {
	return errors.Join(pkg.Range("rated current", float64(r.Current), 1e-3, maxCurrent, domain.Ampere),
		checkConductor(r.Conductor), checkAmbient(r.Ambient), checkAbove(r.Conductor, r.Ambient))
}
