package conductor

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// branch is a good one to start from.
var branch = Branch{Size: AWG(10), Metal: Copper, Insulation: Rated90C, Ambient: Celsius(30), Conductors: 3, Terminals: Rated75C}

func TestAmpacityExamples(t *testing.T) {
	rows := reftest.Rows(t, "conductor/ampacity_examples.csv")
	require.Len(t, rows, 7)
	ratings := map[float64]TemperatureRating{60: Rated60C, 75: Rated75C, 90: Rated90C}
	for _, row := range rows {
		if row.Text("rule") == "device" {
			row.Expected(float64(must[unit.Current](t)(StandardBreakers.ForAmpacity(unit.Current(row.Param("ampacity", "A"))))))
			continue
		}
		s, err := ParseSize(row.ParamText("size"))
		require.NoError(t, err)
		b := branch
		b.Size, b.Insulation = s, ratings[row.Param("rating", "C")]
		b.Ambient, b.Conductors = Celsius(row.Param("ambient", "C")), int(row.Param("n", ""))
		if row.Text("rule") == "formula" {
			b.AmbientRule = ByFormula
		}
		w := must[Worksheet](t)(b.Ampacity())
		got := float64(w.Steps[stepCount].After)
		row.Expected(got)
		if row.Has("wrong") {
			row.Rejects("wrong", got, 0.02)
		}
		assert.LessOrEqual(t, w.Ampacity, w.Steps[stepCount].After)
	}
}

func TestBranchRefuses(t *testing.T) {
	require.NoError(t, second(branch.Current()))
	for says, change := range map[string]func(*Branch){
		"size":                         func(b *Branch) { b.Size = AWG(7) },
		"no size":                      func(b *Branch) { b.Size = Size{} },
		"metal":                        func(b *Branch) { b.Metal = 0 },
		"want 60, 75 or 90 °C":         func(b *Branch) { b.Insulation = 0 },
		"edition":                      func(b *Branch) { b.Edition = 2 },
		"place":                        func(b *Branch) { b.Place = 2 },
		"temperature":                  func(b *Branch) { b.Ambient = 30 },
		"ambient rule":                 func(b *Branch) { b.AmbientRule = 2 },
		"conductors that carry":        func(b *Branch) { b.Conductors = 0 },
		"circuit rating":               func(b *Branch) { b.Rating = 0.5 },
		"list of ratings":              func(b *Branch) { b.Devices = 2 },
		"free-air table aluminium":     func(b *Branch) { b.Place, b.Metal = InFreeAir, Aluminium },
		"free-air table copper, befor": func(b *Branch) { b.Place, b.Edition = InFreeAir, Before2011 },
	} {
		b := branch
		change(&b)
		w, err := b.Ampacity()
		refused(t, err, says)
		assert.Empty(t, w)
		if b.Devices == 0 {
			i, err := b.Current()
			refused(t, err, says)
			assert.Zero(t, i)
		}
	}
	b := branch
	b.Terminals = Rated150C
	refused(t, second(b.Current()), "0 for terminals without marking")
	b = branch
	b.Ambient = Celsius(86)
	require.ErrorIs(t, second(b.Current()), ErrNoAmpacity)
	b.AmbientRule = ByFormula
	require.NoError(t, second(b.Current()), "the formula goes on where the table ends")
	b.Ambient = Celsius(90)
	require.ErrorIs(t, second(b.Ampacity()), ErrNoAmpacity)
	assert.Equal(t, "raceway, cable or earth; free air; no place", fmt.Sprintf("%v; %v; %v", InRaceway, InFreeAir, Place(2)))
}

// 18 and 16 AWG have no column at 60 and 75 °C, so only marked terminals of
// 90 °C serve them.
func TestBranchSmallest(t *testing.T) {
	b := branch
	b.Size = AWG(16)
	refused(t, second(b.Current()), "16 AWG")
	b.Terminals = Rated90C
	assert.EqualValues(t, 18, must[unit.Current](t)(b.Current()))
	b.Devices = StandardFuses
	assert.EqualValues(t, 10, must[Worksheet](t)(b.Ampacity()).Device)
}
