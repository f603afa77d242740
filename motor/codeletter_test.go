package motor

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

func TestKVAPerHPAgainstTable(t *testing.T) {
	previous, letters := 0.0, ""
	for _, row := range reftest.Rows(t, "motor/code_letters.csv") {
		c, err := ParseCodeLetter(row.Text("letter"))
		require.NoError(t, err)
		lo, hi, err := c.KVAPerHP()
		require.NoError(t, err)
		row.Printed("kva_per_hp_min", lo)
		assert.InDelta(t, previous, lo, 0, "the ranges leave no gap below %v", c)
		previous, letters = hi, letters+c.String()
		if c == 'V' {
			assert.True(t, math.IsInf(hi, 1))
			assert.False(t, row.Has("kva_per_hp_max_open"))
			continue
		}
		row.Printed("kva_per_hp_max_open", hi)
		assert.InDelta(t, hi-0.01, row.Float("kva_per_hp_max_closed"), 1e-9, "the same limit in the code's print")
		assert.Equal(t, c, letterOf(row.Float("kva_per_hp_max_closed")))
		assert.Equal(t, c, letterOf(hi-0.0001), "the gap of the closed table belongs to the letter below")
		assert.Equal(t, c, letterOf(lo))
		if row.Has("kva_per_hp_typical_mid") {
			row.Digits("kva_per_hp_typical_mid", (lo+hi)/2, 2, "the page cuts some figures and rounds others")
		}
	}
	assert.Equal(t, codeLetters, letters, "every letter is in the table")
}

func TestKVAPerHPAvoidsMisprints(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/code_letters_wrong.csv") {
		c, err := ParseCodeLetter(row.Text("letter"))
		require.NoError(t, err)
		lo, hi, err := c.KVAPerHP()
		require.NoError(t, err)
		if row.Text("end") == "high" {
			lo = hi
		}
		row.Rejects("wrong_kva_per_hp", lo, 0.01)
	}
}

func TestLockedRotorAgainstWorkedExamples(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/locked_rotor_worked.csv") {
		v, m := volts(row), phases(row)
		switch row.Text("quantity") {
		case "current":
			i, err := LockedRotorCurrent(row.Param("k", ""), v, m, unit.Power(row.Param("hp", "hp"))*Horsepower)
			require.NoError(t, err)
			row.Expected(float64(i))
		case "low", "high":
			n := Nameplate{Output: unit.Power(row.Param("hp", "hp")) * Horsepower, Voltage: v, Phases: m}
			require.NoError(t, n.Code.UnmarshalText([]byte(row.ParamText("letter"))))
			i, basis, err := n.LockedRotor()
			require.NoError(t, err)
			assert.Equal(t, BasisCodeLetter, basis)
			if row.Text("quantity") == "low" {
				row.Expected(float64(i.Low))
			} else {
				row.Expected(float64(i.High))
			}
		case "kva":
			i, p := unit.Current(row.Param("I", "A")), unit.Power(row.Param("hp", "hp"))*Horsepower
			k, err := LockedRotorKVAPerHP(i, v, m, p)
			require.NoError(t, err)
			row.Expected(k)
			c, err := ClassifyCodeLetter(i, v, m, p)
			require.NoError(t, err)
			assert.Equal(t, row.ParamText("letter"), c.String(), row.Source())
		case "delta":
			z, err := LockedRotorImpedance(v, unit.Current(row.Param("I", "A")), m, 1)
			require.NoError(t, err)
			row.Expected(3 * real(z))
		default:
			t.Fatal(row.Source())
		}
	}
}

func TestLockedRotorAvoidsWrongAnswers(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/locked_rotor_wrong.csv") {
		i, err := LockedRotorCurrent(row.Param("k", ""), volts(row), phases(row), unit.Power(row.Param("hp", "hp"))*Horsepower)
		require.NoError(t, err)
		row.Rejects("wrong_a", float64(i), 0.02)
	}
}

func TestKVAPerHPOfDesignCurrents(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/mg1_design_currents.csv") {
		k, err := LockedRotorKVAPerHP(unit.Current(row.Float("i_230v_a")), 230*unit.Volt, 1, hp(row, "hp"))
		require.NoError(t, err)
		row.Printed("kva_per_hp", k)
	}
}

func TestDesignLFallsOnUsualLetters(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/typical_letters.csv") {
		c, err := ClassifyCodeLetter(unit.Current(row.Float("design_l_230v_a")), 230*unit.Volt, 1, hp(row, "hp"))
		require.NoError(t, err)
		assert.Equal(t, row.Text("letter"), c.String(), row.Source())
	}
}

func TestSubmersibleLetters(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/submersible.csv") {
		i, v, m := unit.Current(row.Float("lra_a")), unit.Voltage(row.Float("v_v")), int(row.Float("phases"))
		k, err := LockedRotorKVAPerHP(i, v, m, hp(row, "hp"))
		require.NoError(t, err)
		row.Printed("kva_per_hp", k)
		c, err := ClassifyCodeLetter(i, v, m, hp(row, "hp"))
		require.NoError(t, err)
		assert.Equal(t, row.Text("letter"), c.String(), row.Source())
		// The trade's factor of three on the running current is far too small.
		assert.Greater(t, row.Float("lra_a"), 3*row.Float("i_max_a"), row.Source())
	}
}

// A current made from a letter's limits must come back as that letter, in all
// sizes: binary arithmetic may not tip a limit into the letter below.
func TestClassifyIsTheInverse(t *testing.T) {
	for _, c := range []byte(codeLetters[1:]) {
		lo, hi, err := CodeLetter(c).KVAPerHP()
		require.NoError(t, err)
		for _, p := range []float64{0.05, 1.0 / 3, 0.5, 1, 7.5, 50} {
			for _, v := range []unit.Voltage{115, 208, 230, 460} {
				for _, m := range []int{1, 3} {
					i, err := LockedRotorCurrent(lo, v, m, unit.Power(p)*Horsepower)
					require.NoError(t, err)
					got, err := ClassifyCodeLetter(i, v, m, unit.Power(p)*Horsepower)
					require.NoError(t, err)
					require.Equal(t, CodeLetter(c).String(), got.String(), "%v hp at %v", p, v)
					if !math.IsInf(hi, 1) {
						got, err = ClassifyCodeLetter(i*unit.Current(hi/lo*(1-1e-9)), v, m, unit.Power(p)*Horsepower)
						require.NoError(t, err)
						require.Equal(t, CodeLetter(c).String(), got.String())
					}
				}
			}
		}
	}
}

func TestParseCodeLetter(t *testing.T) {
	for text, want := range map[string]CodeLetter{"k": 'K', " A ": 'A', "V": 'V', "j\t": 'J'} {
		got, err := ParseCodeLetter(text)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	for _, text := range []string{"", " ", "I", "O", "Q", "W", "Z", "KK", "5", "\x00", "é", "ſ", "K."} {
		_, err := ParseCodeLetter(text)
		assert.ErrorIs(t, err, ErrDomain, "%q", text)
	}
	_, err := ParseCodeLetter("Q")
	assert.EqualError(t, err, `motor: code letter "Q", want one of ABCDEFGHJKLMNPRSTUV`)
}

func TestLetterIndex(t *testing.T) {
	for i := range 256 {
		assert.Equal(t, strings.IndexByte(codeLetters, byte(i)), CodeLetter(i).index())
	}
}

func TestCodeLetterText(t *testing.T) {
	for i := range 256 {
		c := CodeLetter(i)
		text, err := c.MarshalText()
		_, _, rangeErr := c.KVAPerHP()
		if c == 0 {
			require.NoError(t, err)
			assert.Empty(t, text)
		} else {
			assert.Equal(t, rangeErr == nil, err == nil)
		}
		if rangeErr != nil {
			assert.Equal(t, "none", c.String())
			assert.ErrorIs(t, rangeErr, ErrDomain)
		}
		if err != nil {
			continue
		}
		back := CodeLetter('Z')
		require.NoError(t, back.UnmarshalText(text))
		assert.Equal(t, c, back)
	}
	var c CodeLetter
	assert.ErrorIs(t, c.UnmarshalText([]byte("I")), ErrDomain)
}

func TestCodeLetterBounds(t *testing.T) {
	ok := func(i, v, p float64, m int) bool {
		_, err := LockedRotorKVAPerHP(unit.Current(i), unit.Voltage(v), m, unit.Power(p)*Horsepower)
		_, err2 := ClassifyCodeLetter(unit.Current(i), unit.Voltage(v), m, unit.Power(p)*Horsepower)
		assert.Equal(t, err == nil, err2 == nil)
		if err != nil {
			assert.ErrorIs(t, err, ErrDomain)
		}
		return err == nil
	}
	assert.True(t, ok(30, 115, 0.5, 1))
	for _, x := range append([]float64{0}, bad...) {
		assert.False(t, ok(x, 115, 0.5, 1), x)
		assert.False(t, ok(30, x, 0.5, 1), x)
		assert.False(t, ok(30, 115, x, 1), x)
		_, err := LockedRotorCurrent(x, 115, 1, 0.5*Horsepower)
		assert.ErrorIs(t, err, ErrDomain)
	}
	for _, m := range []int{-1, 0, 2, 4, math.MaxInt32} {
		assert.False(t, ok(30, 115, 0.5, m), m)
	}
	for _, tt := range []struct{ i, v, p float64 }{
		{0.05, 115, 0.5},
		{20e3, 115, 0.5},
		{30, 10, 0.5},
		{30, 15e3, 0.5},
		{30, 115, 0.05},
		{30, 115, 500},
	} {
		assert.True(t, ok(tt.i, tt.v, tt.p, 1), tt)
	}
	for _, tt := range []struct{ i, v, p float64 }{
		{0.049, 115, 0.5},
		{20.1e3, 115, 0.5},
		{30, 9.9, 0.5},
		{30, 15.1e3, 0.5},
		{30, 115, 0.049},
		{30, 115, 501},
	} {
		assert.False(t, ok(tt.i, tt.v, tt.p, 1), tt)
	}
	_, err := LockedRotorKVAPerHP(30, 115, 1, 1)
	assert.ErrorContains(t, err, "(1 W), want 0.05 hp to 500 hp")
	for k, want := range map[float64]bool{0.5: true, 0.49: false, 100: true, 101: false} {
		_, err := LockedRotorCurrent(k, 115, 1, Horsepower)
		assert.Equal(t, want, err == nil, k)
	}
}
