package conductor

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParseSize(t *testing.T) {
	for text, want := range map[string]Size{
		"10 AWG": AWG(10), "10AWG": AWG(10), "10 awg": AWG(10), "40 AWG": AWG(40),
		"1/0 AWG": AWG(0), "4/0 AWG": AWG(-3), "4/0": AWG(-3), "2/0": AWG(-1),
		"250 kcmil": KCMilSize(250), "250kcmil": KCMilSize(250), "500 MCM": KCMilSize(500),
		"35 mm2": MetricSize(35 * SquareMillimetre), "35 mm²": MetricSize(35 * SquareMillimetre),
		"2.5mm²": MetricSize(2.5 * SquareMillimetre), "0.5 mm2": MetricSize(0.5 * SquareMillimetre),
		"0.75 mm2": MetricSize(0.75 * SquareMillimetre),
	} {
		got, err := ParseSize(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
}

func TestParseSizeRefuses(t *testing.T) {
	for _, text := range []string{
		"", " ", "10", "AWG", "10 ", " 10 AWG", "10  AWG", "10 AWG ", "AWG 10", "41 AWG", "0 AWG", "00 AWG",
		"-1 AWG", "+1 AWG", "010 AWG", "5/0", "0/0 AWG", "10/0 AWG", "1/0 kcmil", "1/0 mm2", "01/0", "1/1 AWG",
		"10.0 AWG", "1.5 AWG", "49 kcmil", "2501 kcmil", "99999999999999999999 kcmil", "36 mm2", "2.50 mm2",
		".5 mm2", "35.0 mm2", "35 MM2", "35 mm", "35 mm^2", "35 mm22", "10 SWG", "10 AWG\x00", "\xff", "１０ AWG", "1e1 AWG", "/0",
	} {
		s, err := ParseSize(text)
		require.ErrorIs(t, err, ErrDomain, "%q", text)
		assert.Equal(t, Size{}, s)
		assert.ErrorContains(t, err, "want a size such as 10 AWG")
	}
	_, err := ParseSize("10")
	assert.EqualError(t, err, `conductor: size "10", want a size such as 10 AWG, 4/0 AWG, 250 kcmil or 35 mm² (IEC 60228)`)
	_, err = ParseSize(strings.Repeat("9", 1e6))
	assert.Less(t, len(err.Error()), 200)
	_, err = ParseSize(strings.Repeat("é", 100))
	assert.Less(t, len(err.Error()), 200)
}

func TestEverySizeRoundTrips(t *testing.T) {
	for _, want := range everySize() {
		got, err := ParseSize(want.String())
		require.NoError(t, err)
		require.Equal(t, want, got)
	}
}

func TestSizeText(t *testing.T) {
	type site struct{ Gauge Size }
	data, err := json.Marshal(site{AWG(0)})
	require.NoError(t, err)
	assert.JSONEq(t, `{"Gauge":"1/0 AWG"}`, string(data))
	var s site
	require.NoError(t, json.Unmarshal(data, &s))
	assert.Equal(t, AWG(0), s.Gauge)
	require.ErrorIs(t, json.Unmarshal([]byte(`{"Gauge":"10"}`), &s), ErrDomain)
	assert.Equal(t, AWG(0), s.Gauge, "a failed read leaves the value alone")
	_, err = Size{}.MarshalText()
	refused(t, err, "no size")
}
