package battery

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
	"ridethrough.example/internal/quantity"
)

// faradayConstant is the charge of a mole of electrons (C/mol), gasConstant
// that of the ideal gas (J/(mol·K)).
// Source: SI of 2019, as products of its exact constants.
const (
	avogadroConstant = 6.02214076e23
	faradayConstant  = 1.602176634e-19 * avogadroConstant
	gasConstant      = 1.380649e-23 * avogadroConstant
)

// HydrogenVolume returns the hydrogen that a charge makes when all of it
// splits water, at standard pressure,
//
//	V = n·(Q/(2·F))·R·T/p
//
// where n is the number of cells, Q the charge (C), F Faraday's constant
// (C/mol), R the gas constant (J/(mol·K)), T the temperature (K) and p is
// 101 325 Pa: 0.418 L for one Ah at 0 °C, 0.456 L at 25 °C. The 0.42 of IEC
// 62485-2 is the first.
//
// Valid for 1 to 1000 cells, 0.1 mAh to 100 kAh and -40 to 60 °C; otherwise
// err wraps [ErrDomain].
//
// Source: Faraday's law and the ideal gas.
func HydrogenVolume(cells int, q unit.Charge, t unit.Temperature) (unit.Volume, error) {
	err := errors.Join(
		checkCount("cells", cells, 1000),
		pkg.Range("charge", float64(q), float64(leastRemoved), float64(mostCapacity), domain.AmpereHour),
		checkTemperature("temperature of the gas", t),
	)
	if err != nil {
		return 0, err
	}
	mol := float64(cells) * float64(q) / (2 * faradayConstant)
	return unit.Volume(mol * gasConstant * float64(t) / float64(quantity.Atmosphere)), nil
}

// HydrogenRate returns the hydrogen that a charging current makes when all of
// it splits water, as in the last hours of a charge that goes on,
//
//	H = 0.000269·n·I
//
// where H is in cubic feet a minute, n the number of cells in series and I the
// charging current (A), at 25 °C and without a factor for safety. In metric
// units that is 7.6e-6 m³/min or 1.27e-4 L/s for each ampere and cell; a
// 7.6e-6 L/s found in print has the first figure with the second unit.
//
// Valid for 1 to 1000 cells and 1 mA to 100 kA; otherwise err wraps
// [ErrDomain].
//
// Source: IEEE Std 484 and IEEE Std 1635.
func HydrogenRate(cells int, charging unit.Current) (FlowRate, error) {
	if !(cells >= 1 && cells <= 1000 && charging >= leastCurrent && charging <= mostCurrent) {
		return 0, errors.Join(checkCount("cells", cells, 1000), checkCurrent("charging current", charging))
	}
	return FlowRate(0.000269*float64(cells)*float64(charging)) * CubicFootPerMinute, nil
}

// The limits of hydrogen in air by volume that can be asked for.
const (
	leastHydrogen = 0.001
	mostHydrogen  = 0.04 // where it starts to burn
)

func checkHydrogenLimit(x float64) error {
	return pkg.Range("hydrogen limit", x, leastHydrogen, mostHydrogen, domain.Percent)
}

// DilutionAirflow returns the fresh air that keeps hydrogen at a limit,
//
//	Q = H·(1 - x)/x
//
// where H is the hydrogen made and x its share of the mixture: 0.01 to 0.02 in
// codes. At 2 % that is 49 parts of air to one of hydrogen.
//
// Valid for 0 to 1000 m³/h of hydrogen and x of 0.1 to 4 %; otherwise err wraps
// [ErrDomain].
//
// Definition: steady balance of a well-mixed room.
func DilutionAirflow(hydrogen FlowRate, limit float64) (FlowRate, error) {
	if !(hydrogen >= 0 && hydrogen <= 1000*CubicMetrePerHour && limit >= leastHydrogen && limit <= mostHydrogen) {
		return 0, errors.Join(checkHydrogen(hydrogen), checkHydrogenLimit(limit))
	}
	return hydrogen * FlowRate((1-limit)/limit), nil
}

func checkHydrogen(h FlowRate) error {
	return pkg.Range("hydrogen", float64(h), 0, float64(1000*CubicMetrePerHour), airflowUnit)
}

// HydrogenConcentration returns the share of hydrogen that a room settles at,
//
//	x = H/(H + Q)
//
// where H is the hydrogen made and Q the fresh air. It is the inverse of
// [DilutionAirflow]; above 0.04 the room can burn. Without any hydrogen it is
// 0.
//
// Valid for 0 to 1000 m³/h of hydrogen and 0 to 100 000 m³/h of air; otherwise
// err wraps [ErrDomain].
//
// Definition: steady balance of a well-mixed room.
func HydrogenConcentration(hydrogen, air FlowRate) (float64, error) {
	if err := errors.Join(checkHydrogen(hydrogen), checkAirflow("airflow", air)); err != nil {
		return 0, err
	}
	if hydrogen == 0 {
		return 0, nil
	}
	return 1 / (1 + float64(air)/float64(hydrogen)), nil
}

// TimeToHydrogen returns the time in which a room without any change of air
// comes to a share of hydrogen,
//
//	t = x·V/H
//
// where V is the free volume of the room and H the hydrogen made. It leaves
// out the gas that escapes as the hydrogen comes in, and so is a trifle short.
//
// Valid for rooms of 1 L to 100 000 m³, hydrogen of 1e-9 to 1000 m³/h and x of
// 0.1 to 4 %; otherwise err wraps [ErrDomain].
//
// Definition: volume over rate.
func TimeToHydrogen(room unit.Volume, hydrogen FlowRate, limit float64) (unit.Time, error) {
	err := errors.Join(
		pkg.Range("room", float64(room), 1e-3, 1e5, domain.Unit{Symbol: "m³", Size: 1}),
		pkg.Range("hydrogen", float64(hydrogen), float64(1e-9*CubicMetrePerHour), float64(1000*CubicMetrePerHour), airflowUnit),
		checkHydrogenLimit(limit),
	)
	if err != nil {
		return 0, err
	}
	return unit.Time(limit * float64(room) / float64(hydrogen)), nil
}
