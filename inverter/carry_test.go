package inverter

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestCarryTable(t *testing.T) {
	for _, row := range reftest.Rows(t, "inverter/loads_carried.csv") {
		var loads []ACLoad
		for cell := range strings.SplitSeq(row.Text("loads"), "; ") {
			if f := strings.Fields(cell); len(f) > 0 {
				loads = append(loads, ACLoad{unit.Power(number(t, f[0])), number(t, f[2]), len(f) == 4})
			}
		}
		s := system12V
		s.Source = Source{OpenCircuit: unit.Voltage(row.Float("open_v")), Battery: unit.Resistance(row.Float("source_ohm"))}
		sum, err := Sum(loads...)
		require.NoError(t, err, row.Source())
		row.Printed("w", float64(sum.Real))
		row.Printed("var", float64(sum.Reactive))
		row.Printed("va", float64(sum.Apparent))
		c, err := s.Carry(sum)
		require.NoError(t, err, row.Source())
		row.Printed("w_dc", float64(c.DC.Power))
		row.Printed("v_dc", float64(c.DC.Voltage))
		row.Printed("i_dc", float64(c.DC.Current))
		row.Printed("given_w", float64(c.Given))
		row.Printed("with_load_w", float64(c.WithLoad))
		row.Printed("heat_w", float64(c.Heat.Total()))
		cut := s.Source.OpenCircuit * 5 / 6
		pf := sum.PowerFactor
		if sum.Apparent == 0 {
			pf = 1
		}
		largest, err := s.LargestAC(pf, cut)
		require.NoError(t, err)
		row.Printed("largest_ac_w", float64(largest))
		assert.InEpsilon(t, float64(s.Source.largest(s.CutOff.Running))/float64(c.DC.Power), c.ToCutOff, 1e-12)
		assert.InEpsilon(t, float64(s.Source.collapse())/float64(c.DC.Power), c.ToCollapse, 1e-12)
	}
}

func TestCarryEnds(t *testing.T) {
	s := system12V
	_, err := s.Carry(PowerTriangle{Real: 3800, Apparent: 3800})
	var collapse *CollapseError
	require.ErrorAs(t, err, &collapse)
	s.Loss.Idle = 0
	c, err := s.Carry(PowerTriangle{})
	require.NoError(t, err)
	assert.Zero(t, c.ToCutOff)
	assert.Zero(t, c.ToCollapse)
	assert.Zero(t, c.Efficiency())
	for _, bad := range []PowerTriangle{
		{Real: -1},
		{Real: 2, Apparent: 1},
		{Real: 1, Apparent: 2e6},
		{Real: unit.Power(math.NaN()), Apparent: 1},
		{Real: 1, Apparent: ApparentPower(math.NaN())},
	} {
		_, err := s.Carry(bad)
		require.ErrorIs(t, err, ErrDomain)
	}
	_, err = System{}.Carry(PowerTriangle{})
	domainError(t, err, "rated power")

	_, err = s.LargestAC(0.04, 10.5)
	domainError(t, err, "power factor")
	_, err = s.LargestAC(0.9, 4)
	domainError(t, err, "cut-off voltage")
	_, err = s.LargestAC(0.9, 13)
	require.ErrorIs(t, err, ErrRestBelowCutOff)
	s.Loss.Idle = 700
	_, err = s.LargestAC(0.9, 12.2)
	require.ErrorIs(t, err, ErrBelowIdle)
}

func TestSumRefuses(t *testing.T) {
	for words, l := range map[string]ACLoad{
		"ac power":           {Real: -1, PowerFactor: 1},
		"ac power NaN":       {Real: unit.Power(math.NaN()), PowerFactor: 1},
		"power factor":       {Real: 1, PowerFactor: 0.04},
		"power factor 1.1":   {Real: 1, PowerFactor: 1.1},
		"power factor NaN":   {Real: 1, PowerFactor: math.NaN()},
		"apparent power 2.0": {Real: 1e6, PowerFactor: 0.5},
	} {
		_, err := Sum(ACLoad{Real: 100, PowerFactor: 1}, l)
		domainError(t, err, words)
	}
	none, err := Sum(ACLoad{})
	require.NoError(t, err)
	assert.Equal(t, PowerTriangle{}, none)
}

// FuzzCarry: every watt is in one place, the sum of loads takes no more VA than
// the loads alone, and the largest load brings the voltage to the cut-off.
func FuzzCarry(f *testing.F) {
	seeds(f, 300, 10)
	f.Add(true, 12.6, 0.01, 30.0, 0.02, 0.05, 900.0, 0.6, 400.0, 0.3, math.NaN())
	f.Fuzz(func(t *testing.T, raw bool, voc, r, idle, v, q, p1, f1, p2, f2, cut float64) {
		s := System{
			Loss:   Loss{3000, unit.Power(fold(raw, idle, 0, 200)), fold(raw, v, 0, 0.2), fold(raw, q, 0, 0.3)},
			Surge:  surge3kVA,
			Source: Source{OpenCircuit: unit.Voltage(fold(raw, voc, 11, 60)), Battery: unit.Resistance(fold(raw, r, 1e-4, 0.1))},
			CutOff: patient,
		}
		a := ACLoad{Real: unit.Power(fold(raw, p1, 0, 3000)), PowerFactor: fold(raw, f1, 0.05, 1)}
		b := ACLoad{Real: unit.Power(fold(raw, p2, 0, 3000)), PowerFactor: fold(raw, f2, 0.05, 1), Leading: true}
		sum, err := Sum(a, b)
		if err != nil {
			require.ErrorIs(t, err, ErrDomain)
			return
		}
		alone, _ := Sum(a)
		other, _ := Sum(b)
		require.LessOrEqual(t, float64(sum.Apparent), float64(alone.Apparent+other.Apparent)*(1+1e-12))
		require.InDelta(t, float64(alone.Real+other.Real), float64(sum.Real), 1e-9)
		c, err := s.Carry(sum)
		if err != nil {
			require.True(t, errors.Is(err, ErrDomain) || errors.Is(err, ErrCollapse))
			return
		}
		require.InEpsilon(t, float64(c.Given)+1e-9, float64(c.Real+c.Idle+c.WithLoad+c.Heat.Total())+1e-9, 1e-12)
		require.InEpsilon(t, float64(s.Source.OpenCircuit), float64(c.DC.Voltage+s.Source.Drops(c.DC.Current).Total()), 1e-12)
		require.True(t, c.Efficiency() >= 0 && c.Efficiency() <= 1)
		require.GreaterOrEqual(t, c.ToCollapse, c.ToCutOff*(1-1e-12))
		require.GreaterOrEqual(t, c.ToCollapse, 1-1e-12)

		limit := unit.Voltage(fold(raw, cut, 0.5, 1)) * s.Source.OpenCircuit
		most, err := s.LargestAC(1, limit)
		if err != nil {
			require.True(t, errors.Is(err, ErrDomain) || errors.Is(err, ErrBelowIdle) || errors.Is(err, ErrRestBelowCutOff))
			return
		}
		if most > mostPower || 2*limit < s.Source.OpenCircuit {
			return
		}
		full, err := s.Carry(PowerTriangle{Real: most, Apparent: ApparentPower(most)})
		if err == nil { // at half the open-circuit voltage the last bits may be beyond collapse
			require.InEpsilon(t, float64(limit), float64(full.DC.Voltage), 1e-6)
		}
	})
}
