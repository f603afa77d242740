package conductor

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

var iecInsulations = map[string]IECInsulation{"pvc": PVC70, "xlpe": XLPE90}

func TestIECAmpacity(t *testing.T) {
	methods := map[string]InstallationMethod{}
	for m := MethodA1; m <= MethodC; m++ {
		methods[m.String()] = m
	}
	rows := reftest.Rows(t, "conductor/iec_60364_5_52_copper.csv")
	require.Len(t, rows, 240)
	for _, row := range rows {
		c := IECCircuit{
			MetricSize(unit.Area(row.Float("area_mm2")) * SquareMillimetre), iecInsulations[row.Text("insulation")],
			methods[row.Text("method")], int(row.Float("loaded")),
		}
		row.Printed("ampacity_a", float64(must[unit.Current](t)(c.Ampacity())))
	}
}

// What is worse to cool carries less: PVC less than XLPE, an insulated wall less
// than a conduit on it, that less than a cable on the wall, and multicore less
// than single cores. Three loaded conductors carry less than two, but lose less
// heat in all. Ampacity grows with a power of the area between 1/2 and 1, and
// 90 °C stands above 70 °C by the square root of the rise, or more, as hot
// surfaces cool better.
func TestIECLaws(t *testing.T) {
	areas := [...]float64{1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120}
	assert.Len(t, iecAmpacity[0][0], len(areas))
	for table := range iecAmpacity {
		for m := range iecAmpacity[table] {
			for a, amps := range iecAmpacity[table][m] {
				where := fmt.Sprintf("table %d, method %d, %v mm²", table, m, areas[a])
				if a > 0 {
					last := iecAmpacity[table][m][a-1]
					assert.Greater(t, amps/last, sqrt(areas[a]/areas[a-1])*0.985, where)
					assert.Less(t, amps/last, areas[a]/areas[a-1], where)
				}
				if m == 1 || m == 3 {
					assert.Less(t, amps, iecAmpacity[table][m-1][a], where)
				}
				if m >= 2 {
					assert.Greater(t, amps, iecAmpacity[table][m-2][a], where)
				}
				if table%2 == 1 {
					assert.Less(t, amps, iecAmpacity[table-1][m][a], where)
					assert.Greater(t, amps/iecAmpacity[table-1][m][a], sqrt(2./3), where)
				}
				if table >= 2 {
					pvc := iecAmpacity[table-2][m][a]
					assert.Greater(t, amps/pvc, sqrtRise(70, 90)*0.995, where)
					assert.Less(t, amps/pvc, 1.40, where)
				}
			}
		}
	}
}

func TestIECAmpacityRefuses(t *testing.T) {
	good := IECCircuit{MetricSize(4 * SquareMillimetre), PVC70, MethodB1, 2}
	require.NoError(t, second(good.Ampacity()))
	for says, bad := range map[string]IECCircuit{
		"size 0.75 mm²":         {MetricSize(0.75 * SquareMillimetre), PVC70, MethodB1, 2},
		"size 150 mm²":          {MetricSize(150 * SquareMillimetre), PVC70, MethodB1, 2},
		"size 10 AWG":           {AWG(10), PVC70, MethodB1, 2},
		"size no size":          {Size{}, PVC70, MethodB1, 2},
		"insulation 0":          {good.Size, 0, MethodB1, 2},
		"insulation 3":          {good.Size, 3, MethodB1, 2},
		"installation method 0": {good.Size, PVC70, 0, 2},
		"installation method 6": {good.Size, PVC70, 6, 2},
		"loaded conductors 1":   {good.Size, PVC70, MethodB1, 1},
		"loaded conductors 4":   {good.Size, PVC70, MethodB1, 4},
	} {
		refused(t, second(bad.Ampacity()), says)
	}
	err := second(IECCircuit{}.Ampacity())
	for _, says := range []string{"size", "insulation", "installation method", "loaded conductors"} {
		assert.ErrorContains(t, err, says)
	}
	assert.Equal(t, "PVC, 70 °C; XLPE or EPR, 90 °C; no insulation; no method", fmt.Sprintf("%v; %v; %v; %v", PVC70, XLPE90, IECInsulation(0), InstallationMethod(0)))
}
