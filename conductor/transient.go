package conductor

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A ThermalModel is a conductor as one body that heats by its current and cools
// in proportion to its temperature above the surroundings,
//
//	C·dT/dt = I²·R·(1 + α·(T − T0)) − G·(T − Ta)
//
// [RatedCurrent.Model] makes one from an ampacity. Insulation left out of the
// heat capacity makes small wire heat faster here than it does.
type ThermalModel struct {
	Resistance   ResistanceLaw         // R at T0, with α
	HeatCapacity HeatCapacityPerLength // C; see [Metal.HeatCapacity]
	Loss         ThermalConductance    // G, 1 µW/(K·m) and more; zero: no heat is lost, the adiabatic limit
	Ambient      unit.Temperature      // Ta
}

// hottest is where the model ends: copper melts (K).
const hottest = 1083 + 273.15

// rates returns what the equation is at a current, for θ = T − Ta,
//
//	dθ/dt = s − k·θ
//
// with s in K/s and k in 1/s, which is negative above the runaway current. The
// pointer saves copies of the model, which cost as much as the exponential.
func rates(m *ThermalModel, i unit.Current) (s, k float64) {
	c := float64(m.HeatCapacity)
	heat := float64(i) * float64(i) * float64(m.Resistance.Resistance)
	alpha := m.Resistance.Coefficient
	s = heat * (1 + alpha*float64(m.Ambient-m.Resistance.At)) / c
	k = (float64(m.Loss) - heat*alpha) / c
	return s, k
}

// After returns the temperature after a time t at a constant current,
//
//	T = Tss + (T' − Tss)·exp(−(G − I²·R·α)·t/C)
//
// where T' is the temperature at the start and Tss, of [ThermalModel.Steady],
// where the conductor settles; the form used holds above the runaway current
// too, where there is no Tss. With a loss of zero it is the adiabatic rise.
//
// A temperature above 1083 °C gives a [TooHotError].
//
// Valid for −60 to 1083 °C at the start, 0 to 100 kA and 0 s to ten years;
// otherwise err wraps [ErrDomain].
//
// Source: linear differential equation of the first order; the balance is that
// of IEC 60287-1-1 with the heat capacity of IEC 60364-5-54, annex A.
func (m ThermalModel) After(start unit.Temperature, i unit.Current, t unit.Time) (unit.Temperature, error) {
	if !(modelOK(&m) && hotOK(start) && currentOK(i) && timeOK(t)) {
		return 0, errors.Join(m.check(), checkHot("temperature at the start", start), checkAnyCurrent(i), checkTime("time", t))
	}
	s, k := rates(&m, i)
	_, span := decay(k, float64(t))
	got := float64(start) + (s-k*float64(start-m.Ambient))*span
	if !(got <= hottest) {
		return 0, &TooHotError{Current: i}
	}
	return unit.Temperature(got), nil
}

// decay returns exp(−k·t) and (1 − exp(−k·t))/k, the time t as a decay shortens
// it or, with k < 0, growth lengthens it. Where the difference would lose
// digits it takes the slower way.
func decay(k, t float64) (left, stretched float64) {
	x := k * t
	left = math.Exp(-x)
	if x > shortest || x < -shortest {
		return left, (1 - left) / k
	}
	return left, shortDecay(k, t)
}

// shortest is the exponent below which 1 − exp(−x) loses more than two digits.
const shortest = 0.01

func shortDecay(k, t float64) float64 {
	if k == 0 {
		return t
	}
	return -math.Expm1(-k*t) / k
}

// Steady returns the temperature at which the conductor settles,
//
//	Tss = Ta + I²·R(Ta)/(G − I²·R·α)
//
// with R at T0 and R(Ta) at ambient temperature, in Ω/m. Above the runaway
// current there is none, and err is a [RunawayError]; one above 1083 °C gives a
// [TooHotError].
//
// Valid for 0 to 100 kA; otherwise err wraps [ErrDomain].
//
// Source: the equation of [ThermalModel] with dT/dt = 0.
func (m ThermalModel) Steady(i unit.Current) (unit.Temperature, error) {
	if !(modelOK(&m) && currentOK(i)) {
		return 0, errors.Join(m.check(), checkAnyCurrent(i))
	}
	s, k := rates(&m, i)
	switch {
	case s == 0:
		return m.Ambient, nil
	case !(k > 0):
		return 0, &RunawayError{Current: i, Limit: m.runaway()}
	}
	got := float64(m.Ambient) + s/k
	if !(got <= hottest) {
		return 0, &TooHotError{Current: i}
	}
	return unit.Temperature(got), nil
}

// RunawayCurrent returns the current above which the conductor has no steady
// temperature,
//
//	I = √(G/(R·α))
//
// about 2.6 times an ampacity for a rise of 45 K, in every size. The true loss grows
// faster than in proportion, so that a real wire finds a balance somewhat
// higher, with its insulation gone.
//
// A coefficient of zero has no such current and gives an error that wraps
// [ErrDomain]. A loss of zero gives 0: then every current runs away.
//
// Source: the equation of [ThermalModel].
func (m ThermalModel) RunawayCurrent() (unit.Current, error) {
	if !(modelOK(&m) && m.Resistance.Coefficient > 0) {
		return 0, errors.Join(m.check(), m.Resistance.checkGrows())
	}
	return m.runaway(), nil
}

// runaway is the limit of a RunawayError: without a coefficient only a model
// without loss comes to it, whose limit is 0.
func (m ThermalModel) runaway() unit.Current {
	if m.Loss == 0 {
		return 0
	}
	return m.Resistance.runaway(float64(m.Loss))
}

// TimeConstant returns the time in which a conductor without current loses 63 %
// of its rise,
//
//	τ = C/G
//
// With a current it is C/(G − I²·R·α), longer.
//
// A loss of zero has no time constant and gives an error that wraps
// [ErrDomain].
//
// Source: the equation of [ThermalModel].
func (m ThermalModel) TimeConstant() (unit.Time, error) {
	if err := m.check(); err != nil {
		return 0, err
	}
	if m.Loss == 0 {
		return 0, pkg.Invalid("loss", "0 W/(K·m)", "above 0, as nothing cools without")
	}
	return unit.Time(float64(m.HeatCapacity) / float64(m.Loss)), nil
}

// TimeTo returns the time in which a constant current brings the conductor from
// one temperature to another, [ThermalModel.After] solved for t: up if the
// current heats, down if it lets the conductor cool.
//
// Where the conductor never comes to it, err is a [NeverReachedError] with the
// temperature that it tends to; a start at the limit takes no time.
//
// Valid for −60 to 1083 °C on both sides and 0 to 100 kA; otherwise err wraps
// [ErrDomain].
//
// Source: as [ThermalModel.After].
func (m ThermalModel) TimeTo(limit, start unit.Temperature, i unit.Current) (unit.Time, error) {
	if !(modelOK(&m) && hotOK(start) && hotOK(limit) && currentOK(i)) {
		return 0, errors.Join(m.check(), checkHot("temperature limit", limit),
			checkHot("temperature at the start", start), checkAnyCurrent(i))
	}
	if limit == start {
		return 0, nil
	}
	s, k := rates(&m, i)
	slope := s - k*float64(start-m.Ambient) // (K/s) at the start
	x := float64(limit-start) / slope       // (s) at that slope
	t := x
	if k != 0 {
		t = -math.Log1p(-k*x) / k
	}
	if !(t >= 0 && t <= math.MaxFloat64) {
		tends := start
		if k > 0 {
			tends = m.Ambient + unit.Temperature(s/k)
		}
		return 0, &NeverReachedError{Limit: limit, Steady: tends}
	}
	return unit.Time(t), nil
}

// Ranges of a model.
const (
	minCapacity, maxCapacity = 1e-3, 1e5 // (J/(K·m))
	minLoss, maxLoss         = 1e-6, 1e4 // (W/(K·m)); zero, which is no loss at all, apart
	maxTime                  = 10 * 366 * 86400
)

func modelOK(m *ThermalModel) bool {
	return lawOK(&m.Resistance) && m.HeatCapacity >= minCapacity && m.HeatCapacity <= maxCapacity &&
		(m.Loss == 0 || m.Loss >= minLoss && m.Loss <= maxLoss) && temperatureOK(m.Ambient)
}

func (m ThermalModel) check() error {
	least := 0.0
	if m.Loss != 0 {
		least = minLoss
	}
	return errors.Join(m.Resistance.check(),
		pkg.Range("heat capacity", float64(m.HeatCapacity), minCapacity, maxCapacity, domain.Unit{Symbol: "J/(K·m)", Size: 1}),
		pkg.Range("loss", float64(m.Loss), least, maxLoss, domain.Unit{Symbol: "W/(K·m)", Size: 1}),
		checkAmbient(m.Ambient))
}

func hotOK(t unit.Temperature) bool { return t >= minTemperature && t <= hottest }

func timeOK(t unit.Time) bool { return t >= 0 && t <= maxTime }

func checkTime(name string, t unit.Time) error {
	return pkg.Range(name, float64(t), 0, maxTime, domain.Second)
}
