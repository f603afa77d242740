package quantity

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/unit"
)

// amp prints through Format with the unit of a gonum type, so that the two can
// be laid side by side.
type amp float64

func (a amp) Format(fs fmt.State, c rune) { Format(fs, c, float64(a), "A") }

func TestFormatAsGonum(t *testing.T) {
	for _, verb := range []string{"%v", "%g", "%G", "%e", "%E", "%f", "%F", "%.0f", "%.2f", "%8.1f", "%12v", "%3f", "%1.0e", "%.3g", "%20.2G"} {
		for _, x := range []float64{0, 1, -10.8, 1296, 1e-9, 6.02e23, math.Inf(1), math.Inf(-1), math.NaN()} {
			assert.Equal(t, fmt.Sprintf(verb, unit.Current(x)), fmt.Sprintf(verb, amp(x)), verb)
		}
	}
}

func TestFormatFlags(t *testing.T) {
	for want, got := range map[string]string{
		"+10.8 VA":      fmt.Sprintf("%+.1f", ApparentPower(10.8)),
		"0010.8 VA":     fmt.Sprintf("%09.1f", ApparentPower(10.8)),
		" 10.8 VA":      fmt.Sprintf("% .1f", ApparentPower(10.8)),
		"10.8 VA   |":   fmt.Sprintf("%-10.1f|", ApparentPower(10.8)),
		"   10.8 VA|":   fmt.Sprintf("%10.1f|", ApparentPower(10.8)),
		"1296 VA":       fmt.Sprint(1296 * VoltAmpere),
		"%!d(1296 VA)":  fmt.Sprintf("%d", ApparentPower(1296)),
		"0.0146 kg m^2": fmt.Sprint(Inertia(0.0146)),
		"179.1 rad/s":   fmt.Sprintf("%.1f", 1710*RPM),
		"%!s(1296 VA)":  fmt.Sprintf("%s", ApparentPower(1296)),
	} {
		assert.Equal(t, want, got)
	}
}

func TestFormatCountsRunes(t *testing.T) {
	assert.Len(t, []rune(fmt.Sprintf("%12.1f", flow(3))), 12)
}

type flow float64

func (f flow) Format(fs fmt.State, c rune) { Format(fs, c, float64(f), "m³/s") }

func FuzzFormat(f *testing.F) {
	f.Add(10.8, 8, 2)
	f.Add(math.Inf(-1), 0, 0)
	f.Fuzz(func(t *testing.T, x float64, width, precision int) {
		width, precision = width&63, precision&15
		got := fmt.Sprintf("%*.*f", width, precision, amp(x))
		assert.True(t, strings.HasSuffix(got, " A"), got)
		assert.Equal(t, fmt.Sprintf("%*.*f", width, precision, unit.Current(x)), got)
	})
}
