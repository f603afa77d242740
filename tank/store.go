package tank

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// Water drawn before the outage, against energy stored for pumping it.

// A Store is water drawn before the outage: a litre in a jug needs no battery,
// no inverter and no start.
//
// A litre weighs a kilogram: 200 L are a load for a floor, 20 L one for a back.
// Keep stored water clean and covered, in containers made for it and out of
// the sun, and change it before it is stale; what stands in a bathtub is for
// flushing and cleaning. A container that freezes bursts.
type Store struct {
	// Volume in jugs, tubs and cisterns, 0.1 L to 1000 m³.
	Volume unit.Volume
	// Use by people during the outage, such as Emergency's for four: see
	// [Tier.Use].
	Use FlowRate
	// Energy that the pump takes for a volume of water, from the battery: see
	// [EnergyToRaise], with the inverter's efficiency among the others.
	Energy EnergyPerVolume
}

// A StoreWorth is what stored water stands for.
type StoreWorth struct {
	Mass  unit.Mass   // at 1 kg a litre
	Lasts unit.Time   // that the people have enough
	Saved unit.Energy // that the battery need not hold
}

// Bounds of energy a volume: from 0.1 m of lift to a poor pump at 1000 m. A
// figure in Wh/L or Wh/gal with its unit forgotten lies below.
const (
	leastPerVolume, mostPerVolume = EnergyPerVolume(1e3), EnergyPerVolume(1e9)
	leastStore, mostStore         = 0.1 * Litre, unit.Volume(1000)
	mostStoredEnergy              = 1e6 * WattHour
)

// Worth returns what a store stands for,
//
//	m = ρ·V, t = V/U, E = e·V
//
// where V is s.Volume (m³), ρ is 1000 kg/m³, U is s.Use (m³/s) and e is
// s.Energy (J/m³). E is energy at the point where e was reckoned: at a battery
// whose inverter and own losses are in e.
//
// Valid for 0.1 L to 1000 m³, uses of 1e-9 m³/s to 20 L/s and energies of 1e3 to
// 1e9 J/m³ (0.28 mWh/L to 0.28 kWh/L); otherwise err wraps [ErrDomain].
//
// Definition: energy a volume times volume, volume over flow.
func (s Store) Worth() (StoreWorth, error) {
	if !(s.Volume >= leastStore && s.Volume <= mostStore && s.Use >= leastDemand && s.Use <= mostFlow && perVolumeOK(s.Energy)) {
		return StoreWorth{}, errors.Join(
			pkg.Range("store", float64(s.Volume), float64(leastStore), float64(mostStore), domain.Litre),
			pkg.Range("use", float64(s.Use), float64(leastDemand), float64(mostFlow), flowUnit),
			perVolumeRange(s.Energy))
	}
	return StoreWorth{
		Mass:  unit.Mass(1000 * float64(s.Volume)),
		Lasts: unit.Time(float64(s.Volume) / float64(s.Use)),
		Saved: unit.Energy(float64(s.Energy) * float64(s.Volume)),
	}, nil
}

// StoreFor returns what to draw beforehand for an outage,
//
//	V = U·t
//
// where U is the use (m³/s) and t the length of the outage (s).
//
// Valid for uses of 1e-9 m³/s to 20 L/s and 1 h to 400 days; otherwise err wraps
// [ErrDomain].
//
// Definition: flow times time.
func StoreFor(use FlowRate, outage unit.Time) (unit.Volume, error) {
	err := errors.Join(pkg.Range("use", float64(use), float64(leastDemand), float64(mostFlow), flowUnit),
		pkg.Range("outage", float64(outage), float64(Hour), 400*float64(Day), domain.Hour))
	if err != nil {
		return 0, err
	}
	return use.Volume(outage), nil
}

// PumpedBy returns the water that an energy brings up, which is also the water
// to store in its place,
//
//	V = E/e
//
// where E is the energy (J), such as 1000*WattHour, and e the energy a volume
// (J/m³), see [EnergyToRaise]. The energy that an inverter idles away and that
// a battery cannot give at the pump's current is to be taken off E before.
//
// Valid for 0 to 1 MWh and 1e3 to 1e9 J/m³; otherwise err wraps [ErrDomain].
//
// Definition: energy over energy a volume.
func PumpedBy(energy unit.Energy, e EnergyPerVolume) (unit.Volume, error) {
	if !(energy >= 0 && energy <= mostStoredEnergy && perVolumeOK(e)) {
		return 0, errors.Join(pkg.Range("energy", float64(energy), 0, float64(mostStoredEnergy), domain.WattHour), perVolumeRange(e))
	}
	return unit.Volume(float64(energy) / float64(e)), nil
}

func perVolumeOK(e EnergyPerVolume) bool { return e >= leastPerVolume && e <= mostPerVolume }

func perVolumeRange(e EnergyPerVolume) error {
	return pkg.Range("energy a volume", float64(e), float64(leastPerVolume), float64(mostPerVolume), perVolumeUnit)
}

var perVolumeUnit = domain.Unit{Symbol: "Wh/L", Size: float64(WattHourPerLitre), Base: "J/m³"}
