package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/motor"
	"ridethrough.example/tank"
)

func read[T ~float64](text string) (Value[T], error) {
	var v Value[T]
	err := v.UnmarshalText([]byte(text))
	return v, err
}

func TestValueForms(t *testing.T) {
	p, err := read[unit.Power]("1-1/2 hp (nameplate)")
	require.NoError(t, err)
	assert.InDelta(t, 1.5*745.69987158227022, float64(p.Low), 1e-9)
	assert.Equal(t, NameplateOf, p.Basis)

	i, err := read[unit.Current]("8.6..10.8 A")
	require.NoError(t, err)
	assert.InDelta(t, 8.6, float64(i.Low), 1e-12)
	assert.InDelta(t, 10.8, float64(i.High), 1e-12)
	assert.Equal(t, Stated, i.Basis)

	c, err := read[unit.Temperature]("-5 °C")
	require.NoError(t, err)
	assert.InDelta(t, 268.15, float64(c.Low), 1e-9)
	f, err := read[unit.Temperature]("23 °F")
	require.NoError(t, err)
	assert.InDelta(t, 268.15, float64(f.Low), 1e-9)

	r, err := read[Ratio]("6 h/day")
	require.NoError(t, err)
	assert.InDelta(t, 0.25, float64(r.Low), 1e-12)

	q, err := read[tank.FlowRate]("264.172052358148 gal/day")
	require.NoError(t, err)
	assert.InDelta(t, 1000, float64(q.Low)*86400*1000, 1e-9)

	s, err := read[motor.ApparentPower]("1.5 kVA (rule of thumb)")
	require.NoError(t, err)
	assert.InDelta(t, 1500, float64(s.Low), 1e-9)
	assert.Equal(t, RuleOfThumb, s.Basis)
}

// Every message must tell the reader what would be accepted.
func TestValueRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"":                 "does not start with a number",
		"30":               "no unit, want a pressure in psi, kPa or bar",
		"30 furlong":       `"furlong" is no unit of pressure, want psi, kPa or bar`,
		"30 psi (guess)":   "want one of measured, nameplate, table, stated, rule of thumb",
		"30 psi (measured": "no closing bracket",
		"50..30 psi":       "upside down",
		"3,5 psi":          "comma",
		"psi":              "does not start with a number",
		"1e3 psi":          "is no unit",
		"NaN psi":          "does not start with a number",
		"Inf psi":          "does not start with a number",
		"1/0 psi":          "is no number",
		"1//2 psi":         "is no number",
		"1 2 psi":          "is no number",
		"1..2..3 psi":      "is no number",
		"..5 psi":          "is no number",
		"0x10 psi":         "is no unit",
		"30 psi 40 psi":    "is no unit",
		"30 psi (assumed)": "want one of",
		"30 psi (exact)":   "want one of",
		"99999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999 psi": "longer than any quantity",
	} {
		_, err := read[unit.Pressure](text)
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), want, text)
	}
}

func TestPairs(t *testing.T) {
	var s SurgePoint
	require.NoError(t, s.UnmarshalText([]byte("4 kVA (nameplate) for 5 s")))
	assert.InDelta(t, 4000, float64(s.Apparent.Low), 1e-9)
	assert.InDelta(t, 5, float64(s.For.Low), 1e-9)
	require.NoError(t, s.UnmarshalText([]byte("4000 W for 5 s")))
	assert.InDelta(t, 4000, float64(s.Apparent.Low), 1e-9)
	require.Error(t, s.UnmarshalText([]byte("4000 VA")))
	require.Error(t, s.UnmarshalText([]byte("4000 V for 5 s")))
	require.Error(t, s.UnmarshalText([]byte("4000 VA for 5 psi")))

	var e EfficiencyPoint
	require.NoError(t, e.UnmarshalText([]byte("91 % at 500 W")))
	assert.InDelta(t, 0.91, float64(e.Efficiency.Low), 1e-12)
	assert.InDelta(t, 500, float64(e.Power.Low), 1e-12)
	require.Error(t, e.UnmarshalText([]byte("91 %")))
}

func FuzzValue(f *testing.F) {
	for _, s := range []string{"28 psi", "1-1/2 psi", "8.6..10.8 bar (measured)", "-5", "1..", "((", "5 psi ()", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		v, err := read[unit.Pressure](text)
		if err != nil {
			return
		}
		if !(v.Low <= v.High) {
			t.Errorf("%q gives %v to %v", text, float64(v.Low), float64(v.High))
		}
		again, err := read[unit.Pressure](v.Text)
		if err != nil || again != v {
			t.Errorf("%q is not read back: %v, %v", text, again, err)
		}
	})
}
