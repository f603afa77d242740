package battery

import (
	"math"

	"ridethrough.example/internal/numeric"
)

// A chart is one published table of rest voltage against state of charge. A
// chart that stops short of empty or full is run on along its last two points.
type chart struct {
	name    string
	bySoC   numeric.Table // state of charge (%) to volts a cell
	byVolts numeric.Table // and back
	leastV  float64       // volts a cell at 0 %
	mostV   float64       // and at 100 %
}

// newChart takes points from low to high: state of charge in % and the
// voltage of a block of so many cells.
func newChart(name string, cells float64, soc, block []float64) chart {
	var x, y []float64
	for i := range soc {
		x = append(x, soc[i])
		y = append(y, block[i]/cells)
	}
	if x[0] > 0 {
		slope := (y[1] - y[0]) / (x[1] - x[0])
		x, y = append([]float64{0}, x...), append([]float64{y[0] - slope*x[0]}, y...)
	}
	if n := len(x) - 1; x[n] < 100 {
		slope := (y[n] - y[n-1]) / (x[n] - x[n-1])
		x, y = append(x, 100), append(y, y[n]+slope*(100-x[n]))
	}
	return chart{
		name: name, bySoC: numeric.NewTable(x, y), byVolts: numeric.NewTable(y, x),
		leastV: y[0], mostV: y[len(y)-1],
	}
}

// volts returns the rest voltage of a cell at a state of charge of 0 to 1.
func (c *chart) volts(soc float64) float64 {
	v, _ := c.bySoC.At(100 * soc)
	return v
}

// soc returns the state of charge, 0 to 1, at a rest voltage of a cell.
func (c *chart) soc(v float64) float64 {
	s, _ := c.byVolts.At(math.Min(math.Max(v, c.leastV), c.mostV))
	return s / 100
}

// The charts of 12 V lead-acid blocks, near 27 °C. The older chart's last
// point, 0 % at 10.5 V, is left out: that is an end voltage under load.
var (
	tradeWet = newChart("trade chart, flooded, 80 F", 6,
		[]float64{0, 25, 50, 75, 100}, []float64{11.89, 12.06, 12.24, 12.45, 12.65})
	tradeGel = newChart("trade chart, gel, 80 F", 6,
		[]float64{0, 25, 50, 75, 100}, []float64{11.80, 12.00, 12.40, 12.60, 12.80})
	olderWet = newChart("older 11-step chart", 6,
		[]float64{10, 20, 30, 40, 50, 60, 70, 80, 90, 100},
		[]float64{11.31, 11.58, 11.75, 11.9, 12.06, 12.2, 12.32, 12.42, 12.5, 12.7})
	magazineWet = newChart("magazine chart, flooded", 6,
		[]float64{25, 50, 75, 100}, []float64{12.15, 12.3, 12.45, 12.66})
	makerAGM = newChart("AGM chart, rest 2 h", 6,
		[]float64{0, 25, 50, 75, 100}, []float64{11.65, 11.95, 12.25, 12.55, 12.85})
	forumAGM = newChart("AGM forum chart", 6,
		[]float64{15, 25, 35, 45, 55, 65, 75, 85, 95, 100},
		[]float64{12.0, 12.1, 12.2, 12.3, 12.4, 12.5, 12.6, 12.7, 12.95, 13.2})
)

// The charts of lithium iron phosphate cells. Of web chart A the points from
// 80 % up are left out: they are charging voltages.
var (
	lithiumCell1 = newChart("cell 1", 1,
		[]float64{0, 0.33, 1.17, 2.67, 5.34, 8.85, 29.72, 98.33, 99.50, 100},
		[]float64{2.0102, 2.4177, 2.7405, 2.9299, 3.0872, 3.1942, 3.2772, 3.3511, 3.4180, 3.5981})
	lithiumCell2 = newChart("cell 2", 1,
		[]float64{
			1.01, 5.35, 9.63, 13.88, 18.24, 22.59, 26.87, 31.24, 35.55, 39.83, 44.14, 48.46,
			52.74, 57.05, 61.31, 65.61, 69.92, 74.18, 78.54, 82.85, 87.09, 91.47, 95.71, 100,
		},
		[]float64{
			2.900, 3.120, 3.170, 3.190, 3.200, 3.220, 3.230, 3.240, 3.250, 3.263, 3.266, 3.269,
			3.272, 3.274, 3.276, 3.278, 3.280, 3.290, 3.304, 3.306, 3.313, 3.316, 3.320, 3.590,
		})
	lithiumWebA = newChart("web chart A", 4,
		[]float64{0, 10, 20, 30, 40, 50, 60, 70},
		[]float64{10.0, 12.0, 12.5, 12.8, 12.9, 13.0, 13.1, 13.2})
	lithiumWebB = newChart("web chart B", 4,
		[]float64{0, 9, 14, 17, 20, 30, 40, 70, 90, 99, 100},
		[]float64{10.0, 12.0, 12.5, 12.8, 12.9, 13.0, 13.1, 13.2, 13.3, 13.4, 13.6})
)

// charts are those that speak about a Chemistry.
var charts = [...][]*chart{
	Flooded:              {&tradeWet, &olderWet, &magazineWet},
	AGM:                  {&makerAGM, &forumAGM},
	Gel:                  {&tradeGel, &makerAGM},
	LithiumIronPhosphate: {&lithiumCell1, &lithiumCell2, &lithiumWebA, &lithiumWebB},
}

// temperatureShift is what the rest voltage of a 12 V lead-acid block at a
// temperature (°F) is above that at 80 °F (V). The trade chart's 13 columns
// differ by it alone, the same at every state of charge.
var temperatureShift = numeric.NewTable(
	[]float64{0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100, 110, 120},
	[]float64{-0.134, -0.108, -0.084, -0.062, -0.044, -0.028, -0.016, -0.007, 0, 0.005, 0.008, 0.011, 0.013},
)
