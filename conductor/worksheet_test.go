package conductor

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"
)

// Each step in its turn governs.
func TestWorksheetGoverns(t *testing.T) {
	for _, c := range []struct {
		name             string
		change           func(*Branch)
		governs          int
		ampacity, device unit.Current
		deviceGoverns    int
	}{
		{"terminals", func(*Branch) {}, stepTerminals, 35, 30, stepSmall},
		{"terminals unmarked", func(b *Branch) { b.Terminals = 0 }, stepTerminals, 30, 30, stepDevice},
		{"terminals, 2/0 AWG unmarked", func(b *Branch) { b.Terminals, b.Size = 0, AWG(-1) }, stepTerminals, 175, 175, stepDevice},
		{"table", func(b *Branch) { b.Terminals = Rated90C }, stepTable, 40, 30, stepSmall},
		{"ambient", func(b *Branch) { b.Ambient = Celsius(50) }, stepAmbient, 32.8, 30, stepSmall},
		{"count", func(b *Branch) { b.Conductors = 9 }, stepCount, 28, 30, stepDevice},
		{"ambient beside count", func(b *Branch) { b.Conductors, b.Ambient = 4, Celsius(55) }, stepAmbient, 24.32, 25, stepDevice},
		{"count beside ambient", func(b *Branch) { b.Conductors, b.Ambient = 9, Celsius(50) }, stepCount, 22.96, 25, stepDevice},
		{"cold", func(b *Branch) { b.Ambient = Celsius(5) }, stepTerminals, 35, 30, stepSmall},
		{"free air bound by terminals", func(b *Branch) { b.Place, b.Size = InFreeAir, AWG(4) }, stepTerminals, 85, 90, stepDevice},
		{"before 2011", func(b *Branch) { b.Edition, b.Size, b.Terminals = Before2011, AWG(3), Rated90C }, stepTable, 110, 110, stepDevice},
		{"since 2011", func(b *Branch) { b.Size, b.Terminals = AWG(3), Rated90C }, stepTable, 115, 125, stepDevice},
		{"aluminium", func(b *Branch) { b.Metal, b.Insulation, b.Terminals = Aluminium, Rated75C, Rated75C }, stepTable, 30, 25, stepSmall},
	} {
		b := branch
		c.change(&b)
		w := must[Worksheet](t)(b.Ampacity())
		assert.Equal(t, c.governs, w.Governs, c.name)
		assert.Equal(t, c.deviceGoverns, w.DeviceGoverns, c.name)
		assert.InDelta(t, float64(c.ampacity), float64(w.Ampacity), 1e-9, c.name)
		assert.InDelta(t, float64(c.device), float64(w.Device), 1e-9, c.name)
		assert.InDelta(t, float64(w.Ampacity), float64(must[unit.Current](t)(b.Current())), 1e-12, c.name)
	}
}

// Every step starts where the one before it ended, and its factor says what it
// did.
func TestWorksheetChain(t *testing.T) {
	for _, b := range someBranches() {
		w, err := b.Ampacity()
		require.NoError(t, err, "%v", b)
		require.Len(t, w.Steps, steps)
		for i, s := range w.Steps {
			if i > 0 {
				assert.Equal(t, w.Steps[i-1].After, s.Before)
			}
			assert.InDelta(t, float64(s.After), float64(s.Before)*s.Factor, 1e-9)
			assert.NotEmpty(t, s.Rule)
			assert.Contains(t, s.Source, "NEC")
		}
		assert.Equal(t, w.Ampacity, w.Steps[stepTerminals].After)
		assert.Equal(t, w.Device, w.Steps[stepSmall].After)
	}
}

// someBranches are branches of all sizes and ratings, far and wide.
func someBranches() []Branch {
	var all []Branch
	for _, s := range codeList[smallestRow:] {
		for _, r := range codeRatings {
			for _, ambient := range []float64{-20, 28, 42} {
				for _, n := range []int{2, 8} {
					for _, rule := range []AmbientRule{ByBand, ByFormula} {
						b := Branch{Size: s, Metal: Copper, Insulation: r, Ambient: Celsius(ambient), Conductors: n, AmbientRule: rule}
						all = append(all, b)
						if s.codeRow() > smallestRow {
							b.Metal, b.Edition = Aluminium, Before2011
							all = append(all, b)
						}
					}
				}
			}
		}
	}
	return all
}

func TestWorksheetPrints(t *testing.T) {
	b := branch
	b.Place, b.AmbientRule, b.Ambient, b.Conductors = InFreeAir, ByFormula, Celsius(45), 4
	text := must[Worksheet](t)(b.Ampacity()).String()
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	require.Len(t, lines, steps)
	for i, part := range []string{"310.17", "formula", "310.15(C)(1)", "110.14(C)", "240.6(A)", "240.4(D)"} {
		assert.Contains(t, lines[i], part)
	}
	assert.True(t, strings.HasPrefix(lines[stepTerminals], "* "), text)
	assert.True(t, strings.HasPrefix(lines[stepTable], "  "), text)
	b.Edition, b.Place = Before2011, InRaceway
	assert.Contains(t, fmt.Sprint(must[Worksheet](t)(b.Ampacity()).Steps[0]), "before 2011")
}
