package conductor

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
)

// runOf reads L1, size1, L2, size2 as a run of solid copper at 20 °C.
func runOf(t *testing.T, row reftest.Row) Run {
	t.Helper()
	run := Run{Circuit: TwoWire}
	for n := 1; row.HasParam(fmt.Sprint("L", n)); n++ {
		run.Segments = append(run.Segments, Segment{
			Wire:        solid(sizeParam(t, row, fmt.Sprint("size", n))),
			OneWay:      feet(row, fmt.Sprint("L", n)),
			Temperature: Celsius(20),
		})
	}
	return run
}

func TestFieldSituations(t *testing.T) {
	for _, row := range reftest.Rows(t, "conductor/field_situations.csv") {
		situation(t, row)
	}
}

func situation(t *testing.T, row reftest.Row) {
	t.Helper()
	one := func(celsius float64) Segment {
		return Segment{Wire: solid(sizeParam(t, row, "size")), OneWay: feet(row, "L"), Temperature: Celsius(celsius)}
	}
	drop := func(run Run) unit.Voltage {
		z := must[Impedance](t)(run.Impedance())
		return must[unit.Voltage](t)(z.Drop(DC(amperes(row))))
	}
	percent := func(celsius float64) float64 {
		return float64(drop(Run{TwoWire, []Segment{one(celsius)}})/volts(row, "V")) * 100
	}
	switch kind := row.Text("kind"); kind {
	case "allowed resistance":
		r := must[ResistancePerLength](t)(DropLimit{TwoWire, feet(row, "L"), amperes(row), volts(row, "Vd")}.Resistance())
		answer(row, float64(r/OhmPerFoot))
	case "smallest even 20 C":
		segment := Segment{Wire: Wire{Metal: Copper, Stranding: Solid}, OneWay: feet(row, "L"), Temperature: Celsius(20)}
		s, _, err := Search{TwoWire, segment, DC(amperes(row)), volts(row, "Vd")}.Smallest(evenGauges())
		require.NoError(t, err, row.Source())
		answer(row, float64(s.number))
	case "percent 20 C":
		answer(row, percent(20))
	case "percent 75 C":
		answer(row, percent(75))
	case "two-wire per length":
		answer(row, float64(TwoWireDrop(perLength(row, "r"), feet(row, "L"), amperes(row))))
	case "resistance 20 C":
		r := must[ResistancePerLength](t)(one(20).Wire.Resistance(Celsius(20)))
		answer(row, float64(r.Over(feet(row, "L"))))
	case "one conductor 20 C":
		r := must[unit.Resistance](t)(one(20).LoopResistance())
		answer(row, float64(r)*float64(amperes(row))*row.Param("counted", "")/2)
	case "two-wire law":
		answer(row, float64(drop(Run{TwoWire, []Segment{one(row.Param("T", "C"))}})))
	case "two-wire table 8 solid":
		r := must[Table8Row](t)(Table8(sizeParam(t, row, "size"), Solid))
		at := must[ResistancePerLength](t)(r.Resistance(Copper, false, Celsius(row.Param("T", "C"))))
		answer(row, float64(TwoWireDrop(at, feet(row, "L"), amperes(row))))
	case "share":
		// Each stretch alone at its longest would take the whole allowed drop;
		// LongestOneWay and the drop are inverse to one another.
		share := 0.0
		for n := 1; n <= 2; n++ {
			d := DropLimit{TwoWire, feet(row, fmt.Sprint("of", n)), 10, 12}
			r := must[ResistancePerLength](t)(d.Resistance())
			share += float64(TwoWireDrop(r, feet(row, fmt.Sprint("L", n)), d.Current) / d.Allowed)
		}
		answer(row, share)
	case "run 20 C":
		answer(row, float64(drop(runOf(t, row))))
	case "loop 20 C":
		answer(row, float64(must[Impedance](t)(runOf(t, row).Impedance()).Resistance))
	default:
		t.Errorf("%s: unknown kind %q", row.Source(), kind)
	}
}

// The typical reactances against the rows that they stand for.
func TestTypicalReactances(t *testing.T) {
	for _, c := range []struct {
		conduit Conduit
		typical ResistancePerLength
		most    float64
	}{{PVCConduit, ReactanceInPVC, 0.0091}, {SteelConduit, ReactanceInSteel, 0.0121}} {
		for _, e := range Table9Entries() {
			if e.Conduit != c.conduit || e.Size.Compare(AWG(-3)) > 0 {
				continue
			}
			assert.InDelta(t, float64(e.Reactance/OhmPerKilofoot), float64(c.typical/OhmPerKilofoot), c.most, e.Size)
			if e.Size == AWG(10) {
				assert.InEpsilon(t, float64(e.Reactance), float64(c.typical), 1e-12)
			}
		}
	}
}

// The whole chain from wire to motor terminals, against a circuit solved node
// by node.
func TestRunCircuits(t *testing.T) {
	for _, row := range reftest.Rows(t, "conductor/run_circuits.csv") {
		run := Run{Circuit: TwoWire}
		if row.Text("circuit") == "three-phase" {
			run.Circuit = ThreePhase
		}
		for text := range strings.SplitSeq(row.Text("segments"), " + ") {
			run.Segments = append(run.Segments, segmentOf(t, text))
		}
		z := must[Impedance](t)(run.Impedance())
		row.Printed("resistance_ohm", float64(z.Resistance))
		source := unit.Voltage(row.Float("source_v"))

		load := Load{unit.Current(row.Float("running_a")), row.Float("power_factor"), row.Has("leading")}
		row.Printed("running_v", float64(must[unit.Voltage](t)(z.LoadVoltage(source, load))))

		locked := must[Impedance](t)(LoadImpedance(unit.Voltage(row.Float("rated_v")),
			Load{Current: unit.Current(row.Float("locked_a")), PowerFactor: row.Float("locked_power_factor")}))
		v := must[unit.Voltage](t)(z.Divide(source, locked))
		row.Printed("start_v", float64(v))
		row.Printed("start_a", float64(v)/float64(locked.Modulus()))
	}
}

// segmentOf reads "10 AWG; solid; copper; 60 ft; 75 C; 0.050".
func segmentOf(t *testing.T, text string) Segment {
	t.Helper()
	part := strings.Split(text, "; ")
	require.Len(t, part, 6)
	size, err := ParseSize(part[0])
	require.NoError(t, err)
	number := func(text, unit string) float64 {
		x, err := strconv.ParseFloat(strings.TrimSuffix(text, unit), 64)
		require.NoError(t, err)
		return x
	}
	return Segment{
		Wire: Wire{
			Size:      size,
			Metal:     map[string]Metal{"copper": Copper, "aluminium": Aluminium}[part[2]],
			Stranding: map[string]Stranding{"solid": Solid, "stranded": Stranded, "flexible": Flexible}[part[1]],
		},
		OneWay:      unit.Length(number(part[3], " ft")) * Foot,
		Temperature: Celsius(number(part[4], " C")),
		Reactance:   ResistancePerLength(number(part[5], "")) * OhmPerKilofoot,
	}
}

func TestRunAddsSegments(t *testing.T) {
	a := Segment{solid(AWG(6)), 350 * Foot, Celsius(20), ReactanceInPVC}
	b := Segment{Wire{AWG(8), Aluminium, Stranded, false}, 300 * Foot, Celsius(60), ReactanceInSteel}
	whole := must[Impedance](t)(Run{TwoWire, []Segment{a, b}}.Impedance())
	first := must[Impedance](t)(Run{TwoWire, []Segment{a}}.Impedance())
	second := must[Impedance](t)(Run{TwoWire, []Segment{b}}.Impedance())
	assert.InEpsilon(t, float64(first.Resistance+second.Resistance), float64(whole.Resistance), 1e-12)
	assert.InEpsilon(t, float64(first.Reactance+second.Reactance), float64(whole.Reactance), 1e-12)
	three := must[Impedance](t)(Run{ThreePhase, []Segment{a, b}}.Impedance())
	assert.InEpsilon(t, math.Sqrt(3)/2, float64(three.Resistance/whole.Resistance), 1e-12)
	loop := must[unit.Resistance](t)(a.LoopResistance())
	assert.InEpsilon(t, float64(first.Resistance), float64(loop), 1e-12)
	// One length cut in two is the same run.
	c, d := a, a
	c.OneWay, d.OneWay = 100*Foot, 250*Foot
	cut := must[Impedance](t)(Run{TwoWire, []Segment{c, d}}.Impedance())
	assert.InEpsilon(t, float64(first.Resistance), float64(cut.Resistance), 1e-12)
}

// Three phases the long way round: each to neutral, then line to line.
func TestThreePhaseExactIsThePhaseCircuit(t *testing.T) {
	segment := Segment{Wire{AWG(10), Copper, Stranded, false}, 500 * Foot, Celsius(75), ReactanceInSteel}
	load := Load{Current: 20, PowerFactor: 0.85}
	z := must[Impedance](t)(Run{ThreePhase, []Segment{segment}}.Impedance())
	line := must[unit.Voltage](t)(z.LoadVoltage(480, load))
	phase := must[Impedance](t)(segment.impedance())
	neutral := must[unit.Voltage](t)(phase.LoadVoltage(unit.Voltage(480/math.Sqrt(3)), load))
	assert.InEpsilon(t, math.Sqrt(3)*float64(neutral), float64(line), 1e-12)
}

func TestRunRefuses(t *testing.T) {
	good := Segment{solid(AWG(10)), 60 * Foot, Celsius(75), 0}
	_, err := Run{TwoWire, nil}.Impedance()
	refused(t, err, "run without segments")
	_, err = Run{0, []Segment{good}}.Impedance()
	refused(t, err, "circuit 0, want two-wire or three-phase")
	_, err = Run{TwoWire, []Segment{good, {}}}.Impedance()
	refused(t, err, "segment 2: conductor: size no size")
	assert.ErrorContains(t, err, "one-way length 0 m")
	assert.NotContains(t, err.Error(), "segment 1")
	bounds(t, "one-way length", minLength, maxLength, func(x float64) error {
		s := good
		s.OneWay = unit.Length(x)
		_, err := Run{TwoWire, []Segment{s}}.Impedance()
		return err
	})
	bounds(t, "reactance", 0, 2e-3, func(x float64) error {
		s := good
		s.Reactance = ResistancePerLength(x)
		_, err := s.LoopResistance()
		return err
	})
	bounds(t, "temperature", minTemperature, maxTemperature, func(x float64) error {
		s := good
		s.Temperature = unit.Temperature(x)
		_, err := s.LoopResistance()
		return err
	})
	// 0.05 was meant per kilofoot; as it stands it is 50 Ω/km.
	s := good
	s.Reactance = 0.05
	_, err = s.LoopResistance()
	require.ErrorContains(t, err, "reactance 50 Ω/km (0.05 Ω/m), want 0 Ω/km to 2 Ω/km")

	for _, x := range []float64{-1, 101, math.NaN()} {
		_, err := EffectiveImpedance(ResistancePerLength(x), 0, 0.85)
		refused(t, err, "resistance")
	}
	_, err = EffectiveImpedance(1e-3, 1, 0.85)
	refused(t, err, "reactance")
	_, err = EffectiveImpedance(1e-3, 0, 85)
	refused(t, err, "power factor 85, want 0.05 to 1")
	_, err = Circuit(3).Factor()
	refused(t, err, "circuit")
	assert.Equal(t, "two-wire three-phase no circuit", fmt.Sprint(TwoWire, " ", ThreePhase, " ", Circuit(0)))
	assert.True(t, math.IsNaN(float64(TwoWireDrop(1, 1, unit.Current(math.NaN())))))
}
