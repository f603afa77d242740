package battery

import (
	"errors"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A VoltagePoint is the rest voltage and the resistance of a battery at one
// state of charge.
type VoltagePoint struct {
	StateOfCharge float64         // 0 to 1
	OpenCircuit   unit.Voltage    // 0.5 to 1500 V
	Resistance    unit.Resistance // 1 µΩ to 10 Ω, up to where the voltage is measured
}

// A VoltageModel is a battery as a rest voltage behind a resistance, both in
// straight lines between points of the state of charge. Make one with
// [NewVoltageModel] or [Bank.VoltageModels]; it never changes. The zero value
// is invalid, and every method refuses it.
//
// The voltage answers a current at once, and is back at the rest voltage once
// the current stops. The recovery over minutes to hours that a real battery
// shows is left out, as no time constant for it could be verified; a filtered
// current with a time constant of your own is in [Tremblay].
type VoltageModel struct {
	*voltageLines
}

// voltageLines are the points of a model, never modified once made.
type voltageLines struct {
	soc, open, res []float64 // same length, soc ascending from 0 to 1
	capacity       float64   // (C)
}

const mostVoltagePoints = 10000

// NewVoltageModel returns the model through the points, for a battery that
// gives a capacity from full to empty. The capacity is that at the rate,
// temperature and age of the discharge in question, as [Condition.Usable] has
// it before the depth limit; one that the currents of a discharge change by
// Peukert's law is not in the model.
//
// There must be 2 to 10000 points, from a state of charge of 0 to 1, each at
// least a millionth above the one before. The open-circuit voltage must not
// fall as the charge rises, nor the resistance rise; where a measured
// resistance does, near full, hold it level. Anything else, and a capacity
// outside 0.1 Ah to 100 kAh, is an [ErrDomain].
//
// Definition: V = Voc(S) - I·R(S).
func NewVoltageModel(points []VoltagePoint, capacity unit.Charge) (VoltageModel, error) {
	if n := len(points); n < 2 || n > mostVoltagePoints {
		return VoltageModel{}, pkg.Invalid("number of voltage points", strconv.Itoa(n), "2 to "+strconv.Itoa(mostVoltagePoints))
	}
	if err := checkCurveCapacity(capacity); err != nil {
		return VoltageModel{}, err
	}
	m := &voltageLines{capacity: float64(capacity)}
	for i, p := range points {
		least, most := 0.0, 1.0
		v, r := float64(leastCurveVoltage), float64(mostResistance)
		switch {
		case i == 0:
			most = 0
		case i == len(points)-1:
			least = 1
			fallthrough
		default:
			least = max(least, m.soc[i-1]+1e-6)
			v, r = m.open[i-1], m.res[i-1]
		}
		err := errors.Join(
			pkg.Range("state of charge of a voltage point", p.StateOfCharge, least, most, domain.One),
			pkg.Range("open-circuit voltage, in order of charge", float64(p.OpenCircuit), v, float64(mostCurveVoltage), domain.Volt),
			pkg.Range("resistance, in order of charge", float64(p.Resistance), float64(leastResistance), r, domain.Ohm),
		)
		if err != nil {
			return VoltageModel{}, err
		}
		m.soc = append(m.soc, p.StateOfCharge)
		m.open = append(m.open, float64(p.OpenCircuit))
		m.res = append(m.res, float64(p.Resistance))
	}
	return VoltageModel{m}, nil
}

// Capacity returns the charge from full to empty, 0 for the zero value.
//
// Definition: the argument of [NewVoltageModel].
func (m VoltageModel) Capacity() unit.Charge {
	if m.voltageLines == nil {
		return 0
	}
	return unit.Charge(m.capacity)
}

// Points returns a copy of the points, none for the zero value.
//
// Definition: the argument of [NewVoltageModel].
func (m VoltageModel) Points() []VoltagePoint {
	if m.voltageLines == nil {
		return nil
	}
	points := make([]VoltagePoint, 0, len(m.soc))
	for i := range m.soc {
		points = append(points, VoltagePoint{m.soc[i], unit.Voltage(m.open[i]), unit.Resistance(m.res[i])})
	}
	return points
}

func (m *voltageLines) check() error {
	if m != nil {
		return nil
	}
	return pkg.Invalid("voltage model", "without points", "one from NewVoltageModel")
}

// at returns voltage and resistance at a state of charge of 0 to 1.
func (m *voltageLines) at(soc float64) (open, r float64) {
	hi, _ := slices.BinarySearch(m.soc, soc)
	hi = min(max(hi, 1), len(m.soc)-1)
	return m.between(hi, soc)
}

// between reads the line that ends at point hi.
func (m *voltageLines) between(hi int, soc float64) (open, r float64) {
	lo := hi - 1
	x := (soc - m.soc[lo]) / (m.soc[hi] - m.soc[lo])
	return m.open[lo] + (m.open[hi]-m.open[lo])*x, m.res[lo] + (m.res[hi]-m.res[lo])*x
}

// At returns the rest voltage and the resistance at a state of charge of 0 to
// 1; otherwise, and for the zero value, err wraps [ErrDomain].
//
// Definition: straight lines between the points.
func (m VoltageModel) At(stateOfCharge float64) (VoltagePoint, error) {
	if err := errors.Join(m.check(), checkFraction("state of charge", stateOfCharge, 0)); err != nil {
		return VoltagePoint{}, err
	}
	open, r := m.at(stateOfCharge)
	return VoltagePoint{stateOfCharge, unit.Voltage(open), unit.Resistance(r)}, nil
}

// Voltage returns the point at a constant current and a state of charge,
//
//	V = Voc(S) - I·R(S)
//
// where Voc is the rest voltage (V), R the resistance (Ω), I the current (A)
// and S the state of charge, 0 to 1.
//
// Valid for 0 to 100 kA; otherwise err wraps [ErrDomain]. Where V is not above
// 0 V, err is [ErrCollapse].
//
// Source: Kirchhoff's voltage law.
func (m VoltageModel) Voltage(stateOfCharge float64, i unit.Current) (LoadPoint, error) {
	if !(m.voltageLines != nil && stateOfCharge >= 0 && stateOfCharge <= 1 && i >= 0 && i <= mostCurrent) {
		return LoadPoint{}, errors.Join(
			m.check(),
			checkFraction("state of charge", stateOfCharge, 0),
			pkg.Range("current", float64(i), 0, float64(mostCurrent), domain.Ampere),
		)
	}
	x, ok := m.pointAtCurrent(stateOfCharge, float64(i))
	if !ok {
		return LoadPoint{}, ErrCollapse
	}
	return x, nil
}

func (m *voltageLines) pointAtCurrent(soc, i float64) (x LoadPoint, ok bool) {
	open, r := m.at(soc)
	v := open - r*i
	if !(v > 0) {
		return LoadPoint{}, false
	}
	return LoadPoint{Power: unit.Power(v * i), Current: unit.Current(i), Voltage: unit.Voltage(v)}, true
}

// VoltageAtPower returns the point at a constant power and a state of charge:
// [PointAtPower] with the voltage and resistance at that charge. Bounds and
// [CollapseError] as there.
//
// Source: as for [PointAtPower].
func (m VoltageModel) VoltageAtPower(stateOfCharge float64, p unit.Power) (LoadPoint, error) {
	x, err := m.At(stateOfCharge)
	if err != nil {
		return LoadPoint{}, err
	}
	return PointAtPower(x.OpenCircuit, x.Resistance, p)
}
