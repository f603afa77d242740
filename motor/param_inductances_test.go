package motor

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestFromInductances(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/generic_three_phase.csv") {
		h := unit.Inductance(row.Float("ls_h"))
		v := unit.Voltage(row.Float("v_line_v"))
		c, err := Inductances{
			Stator: unit.Resistance(row.Float("rs_ohm")), Rotor: unit.Resistance(row.Float("rr_ohm")),
			Ls: h, Lr: h, Lm: unit.Inductance(row.Float("lm_h")),
		}.Circuit(v, unit.Frequency(row.Float("freq_hz")), 4)
		require.NoError(t, err, row.Source())
		th, err := c.Thevenin(v)
		require.NoError(t, err)
		held, err := c.Starting(1, v)
		require.NoError(t, err)
		row.Printed("i_start_a", float64(held.Current))
		row.Printed("t_start_nm", float64(held.Torque))
		row.Printed("t_max_nm", float64(th.Torque))
		row.Printed("s_max", th.Breakdown)
		// Counted in locked_rotor_pf.csv.
		assert.InDelta(t, row.Float("pf_start"), held.PowerFactor, 5.1e-6, row.Source())
	}
}

func TestInductancesRefuse(t *testing.T) {
	good := Inductances{Stator: 1.1, Rotor: 1.1, Ls: 0.21, Lr: 0.21, Lm: 0.2037}
	c, err := good.Circuit(460, 60, 4)
	require.NoError(t, err)
	assert.InEpsilon(t, 2*math.Pi*60*0.0063, float64(c.X1), 1e-9)
	var contradicts *ContradictionError
	for name, spoil := range map[string]func(l *Inductances){
		"stator": func(l *Inductances) { l.Ls = 0.2036 },
		"rotor":  func(l *Inductances) { l.Lr = 0.2036 },
	} {
		l := good
		spoil(&l)
		_, err := l.Circuit(460, 60, 4)
		require.ErrorAs(t, err, &contradicts, name)
	}
	for _, x := range []float64{0, 9e-7, 1001, math.NaN(), math.Inf(1)} {
		for name, spoil := range map[string]func(l *Inductances){
			"Ls": func(l *Inductances) { l.Ls = unit.Inductance(x) },
			"Lr": func(l *Inductances) { l.Lr = unit.Inductance(x) },
			"Lm": func(l *Inductances) { l.Lm = unit.Inductance(x) },
			"Rs": func(l *Inductances) { l.Stator = unit.Resistance(x * 1e2 * 0.9) },
			"Rr": func(l *Inductances) { l.Rotor = unit.Resistance(x * 1e2 * 0.9) },
		} {
			if x == 1001 && name[0] == 'R' {
				continue
			}
			l := good
			spoil(&l)
			_, err := l.Circuit(460, 60, 4)
			require.ErrorIs(t, err, ErrDomain, "%s %g", name, x)
		}
	}
	_, err = good.Circuit(0, 60, 4)
	require.ErrorIs(t, err, ErrDomain)
	_, err = good.Circuit(460, 60, 3)
	require.ErrorIs(t, err, ErrDomain)
	// A motor of no magnetizing worth.
	_, err = Inductances{Stator: 1, Rotor: 1, Ls: 0.5, Lr: 0.5, Lm: 0.1}.Circuit(460, 60, 4)
	require.ErrorIs(t, err, ErrDomain)
}
