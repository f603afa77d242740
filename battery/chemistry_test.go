package battery

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

func TestChemistryText(t *testing.T) {
	for c := Flooded; c.Valid(); c++ {
		got, err := ParseChemistry(" " + strings.ToUpper(c.String()))
		require.NoError(t, err)
		assert.Equal(t, c, got)
		data, err := json.Marshal(c)
		require.NoError(t, err)
		var back Chemistry
		require.NoError(t, json.Unmarshal(data, &back))
		assert.Equal(t, c, back)
	}
	for s, c := range map[string]Chemistry{"LFP": LithiumIronPhosphate, "LiFePO4": LithiumIronPhosphate, "Vented": Flooded, "wet": Flooded, "agm": AGM} {
		got, err := ParseChemistry(s)
		require.NoError(t, err)
		assert.Equal(t, c, got, s)
	}
	_, err := ParseChemistry("nickel")
	refused(t, err)
	assert.Equal(t, `battery: chemistry "nickel", want flooded, AGM, gel or lithium iron phosphate`, err.Error())
	_, err = ParseChemistry(strings.Repeat("ä", 1000))
	refused(t, err)
	assert.Less(t, len(err.Error()), 200)
	_, err = Chemistry(0).MarshalText()
	refused(t, err)
	assert.Equal(t, "Chemistry(9)", Chemistry(9).String())
	assert.Zero(t, Chemistry(9).CellVoltage())
	c := Gel
	refused(t, c.UnmarshalText([]byte("")))
	assert.Equal(t, Gel, c, "a refused text leaves the value")
	assert.True(t, Gel.LeadAcid())
	assert.False(t, LithiumIronPhosphate.LeadAcid())
	assert.False(t, Chemistry(0).LeadAcid())
}

func TestCells(t *testing.T) {
	for _, x := range []struct {
		c Chemistry
		v unit.Voltage
		n int
	}{
		{Flooded, 2, 1},
		{Flooded, 6, 3},
		{AGM, 12, 6},
		{Gel, 24, 12},
		{Flooded, 48, 24},
		{LithiumIronPhosphate, 3.2, 1},
		{LithiumIronPhosphate, 12, 4},
		{LithiumIronPhosphate, 12.8, 4},
		{LithiumIronPhosphate, 24, 8},
		{LithiumIronPhosphate, 25.6, 8},
		{LithiumIronPhosphate, 48, 15},
		{LithiumIronPhosphate, 51.2, 16},
	} {
		n, err := x.c.Cells(x.v)
		require.NoError(t, err, "%v %v", x.c, x.v)
		assert.Equal(t, x.n, n, "%v %v", x.c, x.v)
	}
	for _, v := range []unit.Voltage{1, 13, 12.8, 1001, unit.Voltage(math.NaN()), unit.Voltage(math.Inf(1)), 0, -12} {
		_, err := Flooded.Cells(v)
		refused(t, err, "%v", v)
	}
	for _, v := range []unit.Voltage{36, 12.7 * 4.1, 12.5, 13.1, 3.1} {
		_, err := LithiumIronPhosphate.Cells(v)
		refused(t, err, "%v", v)
	}
	for _, v := range []unit.Voltage{11.8, 12.2} { // within 2 % of six cells
		n, err := AGM.Cells(v)
		require.NoError(t, err)
		assert.Equal(t, 6, n)
	}
	for _, v := range []unit.Voltage{11.7, 12.3, 48.5} { // 48.5 V is 0.25 cells off
		_, err := AGM.Cells(v)
		refused(t, err, "%v", v)
	}
	n, err := Flooded.Cells(1000)
	require.NoError(t, err)
	assert.Equal(t, 500, n)
	_, err = Chemistry(0).Cells(12)
	refused(t, err)
}
