package tank

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestSuctionExamples(t *testing.T) {
	const rho = Density(998)
	pressure := func(feet float64) unit.Pressure {
		return unit.Pressure(feet * float64(Foot) * float64(rho) * gravity)
	}
	for _, r := range reftest.Rows(t, "tank/npsh_examples.csv") {
		switch r.Text("id") {
		case "NP2", "NP6":
			s := Suction{
				Atmosphere: pressure(r.Param("head", "ft")), Lift: unit.Length(r.Param("lift", "ft")) * Foot,
				Friction: unit.Length(r.Param("friction", "ft")) * Foot,
				Water:    Water{Density: rho, Vapour: pressure(r.Param("vapour", "ft"))},
			}
			h, err := s.Available()
			require.NoError(t, err)
			r.Expected(float64(h / Foot))
		case "NP3":
			// A gauge at the pump: what it shows stands for the surface, its
			// height and the velocity head for a flooded suction.
			v := r.Param("v", "ft/s") * float64(Foot)
			factor := r.Param("factor", "ft/psi") * float64(Foot)
			s := Suction{
				Atmosphere: unit.Pressure(r.Param("gauge", "psi")+r.Param("atm", "psi")) * PSI,
				Lift:       -unit.Length(r.Param("gauge_height", "ft"))*Foot - unit.Length(v*v/(2*gravity)),
				Water:      Water{Density: Density(float64(PSI) / (factor * gravity)), Vapour: unit.Pressure(r.Param("pv", "psi")) * PSI},
			}
			h, err := s.Available()
			require.NoError(t, err)
			r.Expected(float64(h / Foot))
		case "NP7":
			s := Suction{
				Atmosphere: unit.Pressure(r.Param("atm", "Pa")),
				Water:      Water{Density: Density(r.Param("rho", "kg/m3")), Vapour: unit.Pressure(r.Param("pv", "Pa"))},
			}
			z, err := s.GreatestLift(0)
			require.NoError(t, err)
			r.Expected(float64(z))
		default:
			pa, err := StandardPressure(unit.Length(r.Param("altitude", "m")))
			require.NoError(t, err)
			w, err := WaterAt(Celsius(r.Param("temp", "C")))
			require.NoError(t, err)
			s := Suction{Atmosphere: pa, Friction: unit.Length(r.Param("friction", "m")), Water: w}
			z, err := s.GreatestLift(unit.Length(r.Param("npshr", "m")))
			require.NoError(t, err)
			r.Within("expected", float64(z), 2e-5, "the vapour pressure of IAPWS-95, and Kell's density here")
		}
	}
}

func TestSuctionByAltitude(t *testing.T) {
	w, err := WaterAt(Celsius(10))
	require.NoError(t, err)
	for _, r := range reftest.Rows(t, "tank/suction_lift_altitude.csv") {
		z := unit.Length(r.Float("altitude_ft")) * Foot
		pa, err := StandardPressure(z)
		require.NoError(t, err)
		r.Printed("exact_psia", float64(pa/PSI))
		r.Within("printed_psi", float64(pa/PSI), 0.0085, "the site's own atmosphere, low by up to 0.8 % at 6600 ft")
		feet := float64(pa/PSI) * 2.31
		if r.Text("altitude_ft") == "7920" {
			r.Rejects("printed_ft_water", feet, 0.04)
		} else {
			r.Within("printed_ft_water", feet, 0.0085, "the site's own atmosphere")
		}
		lift, err := PracticalLift(z)
		require.NoError(t, err)
		r.Printed("practical_lift_ft", float64(lift/Foot))
		// The trade's lift lies below the air's, by what pump and pipe need.
		ceiling, err := Suction{Atmosphere: pa, Water: w}.GreatestLift(0)
		require.NoError(t, err)
		assert.InDelta(t, 10, float64((ceiling-lift)/Foot), 2)
	}
	between, err := PracticalLift(660 * Foot)
	require.NoError(t, err)
	assert.InDelta(t, 21.5, float64(between/Foot), 1e-9)
}

// well is a jet pump 20 ft above cold water at sea level.
var well = Suction{Atmosphere: SeaLevel, Lift: 20 * Foot, Friction: 2 * Foot, Water: cold}

func TestJet(t *testing.T) {
	for lift, want := range map[unit.Length]SuctionVerdict{-5 * Foot: Draws, 20 * Foot: Draws, 26 * Foot: Cavitates, 33 * Foot: Parts} {
		s := well
		s.Lift = lift
		r, err := s.Jet(8.5 * Foot)
		require.NoError(t, err)
		assert.Equal(t, want, r.Verdict, "%v", lift)
		assert.InDelta(t, float64(r.Available-8.5*Foot), float64(r.Margin), 1e-12)
	}
	// The head required itself is enough, and a head of nothing is not.
	s := well
	have, err := s.Available()
	require.NoError(t, err)
	r, err := s.Jet(have)
	require.NoError(t, err)
	assert.Equal(t, Draws, r.Verdict)
	r, err = s.Jet(have + 1e-9)
	require.NoError(t, err)
	assert.Equal(t, Cavitates, r.Verdict)
	s.Lift += have + 1e-9
	r, err = s.Jet(0)
	require.NoError(t, err)
	assert.Equal(t, Parts, r.Verdict)
	assert.Equal(t, "draws cavitates parts SuctionVerdict(0)", fmt.Sprint(Draws, " ", Cavitates, " ", Parts, " ", SuctionVerdict(0)))
}

func TestSuctionBounds(t *testing.T) {
	faults := func(s Suction, required unit.Length) []error {
		_, a := s.Available()
		_, b := s.GreatestLift(required)
		_, c := s.Jet(required)
		return []error{a, b, c}
	}
	for quantity, set := range map[string]func(s *Suction, x float64){
		"atmosphere":      func(s *Suction, x float64) { s.Atmosphere = unit.Pressure(x) },
		"density":         func(s *Suction, x float64) { s.Water.Density = Density(x) },
		"vapour pressure": func(s *Suction, x float64) { s.Water.Vapour = unit.Pressure(x) },
	} {
		for _, x := range append([]float64{0, 14.7, 0.99}, notNumbers...) {
			s := well
			set(&s, x)
			for _, err := range faults(s, 1) {
				refused(t, err, quantity)
			}
		}
	}
	for _, x := range append([]float64{30.1}, notNumbers...) {
		s := well
		s.Friction = unit.Length(x)
		for _, err := range faults(s, 1) {
			refused(t, err, "suction friction")
		}
	}
	for _, x := range append([]float64{15.1}, notNumbers...) {
		_, err := well.GreatestLift(unit.Length(x))
		refused(t, err, "suction head required")
		_, err = well.Jet(unit.Length(x))
		refused(t, err, "suction head required")
	}
	for _, x := range []float64{-30.1, 15.1, 25, notNumbers[0], notNumbers[1], notNumbers[2]} {
		s := well
		s.Lift = unit.Length(x)
		_, err := s.Available()
		refused(t, err, "lift")
	}
	for _, x := range append([]float64{3219}, notNumbers...) {
		_, err := PracticalLift(unit.Length(x))
		refused(t, err, "altitude")
	}
	for _, s := range []Suction{
		{Atmosphere: 30e3, Lift: -30, Water: Water{Density: 800, Vapour: 100}},
		{Atmosphere: 125e3, Lift: 15, Friction: 30, Water: Water{Density: 1300, Vapour: 105e3}},
	} {
		for _, err := range faults(s, 15) {
			require.NoError(t, err)
		}
	}
	_, err := PracticalLift(10560 * Foot)
	require.NoError(t, err)
}

// The greatest lift is the one at which the head required is just there, and
// falls with altitude and with warmth.
func FuzzSuction(f *testing.F) {
	f.Add(0.0, 10.0, 3.0, 0.5)
	f.Add(3000.0, 25.0, 2.0, 0.0)
	f.Fuzz(func(t *testing.T, altitude, temp, required, friction float64) {
		pa, err := StandardPressure(unit.Length(altitude))
		if err != nil {
			return
		}
		w, err := WaterAt(Celsius(temp))
		if err != nil {
			return
		}
		s := Suction{Atmosphere: pa, Friction: unit.Length(friction), Water: w}
		z, err := s.GreatestLift(unit.Length(required))
		finite(t, err, float64(z))
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		s.Lift = z
		if have, err := s.Available(); err == nil {
			assert.InDelta(t, required, float64(have), 1e-9)
		}
		if higher, err := StandardPressure(unit.Length(altitude + 100)); err == nil {
			s.Atmosphere = higher
			if lower, err := s.GreatestLift(unit.Length(required)); err == nil {
				assert.Less(t, float64(lower), float64(z))
			}
		}
	})
}
