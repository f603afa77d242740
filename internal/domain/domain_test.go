package domain

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ridethrough.example/internal/quantity"
)

const motor = Package("motor")

func TestMessages(t *testing.T) {
	for want, err := range map[string]error{
		"motor: voltage 0 V, want 10 V to 15 kV":     motor.Range("voltage", 0, 10, 15e3, Volt),
		"motor: voltage NaN V, want 10 V to 15 kV":   motor.Range("voltage", math.NaN(), 10, 15e3, Volt),
		"motor: voltage +Inf V, want 10 V to 15 kV":  motor.Range("voltage", math.Inf(1), 10, 15e3, Volt),
		"motor: voltage -Inf V, want 10 V to 15 kV":  motor.Range("voltage", math.Inf(-1), 10, 15e3, Volt),
		"motor: voltage -230 V, want 10 V to 15 kV":  motor.Range("voltage", -230, 10, 15e3, Volt),
		"motor: voltage 120 kV, want 10 V to 15 kV":  motor.Range("voltage", 120e3, 10, 15e3, Volt),
		"motor: resistance 20 µΩ, want 1 mΩ to 1 kΩ": motor.Range("resistance", 20e-6, 1e-3, 1e3, Ohm),
		"motor: power factor 1.2, want 0.01 to 1":    motor.Range("power factor", 1.2, 0.01, 1, One),
		"motor: efficiency 120 %, want 1 % to 100 %": motor.Range("efficiency", 1.2, 0.01, 1, Percent),
		"motor: power 2e-07 W, want 1 W to 1 GW":     motor.Range("power", 2e-7, 1, 1e9, Watt),
		// A forgotten unit shows in what stands beside the trade unit.
		"motor: shaft power 0.000670511 hp (0.5 W), want 0.05 hp to 500 hp": motor.Range(
			"shaft power", 0.5, 0.05*Horsepower.Size, 500*Horsepower.Size, Horsepower),
		"tank: precharge 0.00435113 psi (30 Pa), want 1 psi to 150 psi": Package("tank").Range(
			"precharge", 30, PSI.Size, 150*PSI.Size, PSI),
		"battery: capacity 0.0277778 Ah (100 C), want 0.1 Ah to 100000 Ah": Package("battery").Range(
			"capacity", 100, 0.1*AmpereHour.Size, 1e5*AmpereHour.Size, AmpereHour),
		"battery: temperature -248.15 °C (25 K), want -40 °C to 80 °C": Package("battery").Range(
			"temperature", 25, float64(quantity.Celsius(-40)), float64(quantity.Celsius(80)), Celsius),
		"motor: temperature NaN °C (NaN K), want -40 °C to 80 °C": motor.Range(
			"temperature", math.NaN(), float64(quantity.Celsius(-40)), float64(quantity.Celsius(80)), Celsius),
		`motor: code letter 'I', want one of A to V`: motor.Invalid("code letter", "'I'", "one of A to V"),
		// A value next to a bound does not read like the bound.
		"motor: voltage 9.999999999 V, want 10 V to 15 kV":         motor.Range("voltage", 9.999999999, 10, 15e3, Volt),
		"motor: voltage 15.000000000000002 kV, want 10 V to 15 kV": motor.Range("voltage", math.Nextafter(15e3, 16e3), 10, 15e3, Volt),
	} {
		assert.EqualError(t, err, want)
	}
}

func TestRangeEnds(t *testing.T) {
	for x, ok := range map[float64]bool{
		10: true, 15e3: true, 230: true,
		math.Nextafter(10, 0): false, math.Nextafter(15e3, 2e4): false, -10: false, 0: false,
		math.Inf(1): false, math.Inf(-1): false,
	} {
		assert.Equal(t, ok, motor.Range("voltage", x, 10, 15e3, Volt) == nil, x)
	}
	assert.Error(t, motor.Range("voltage", math.NaN(), math.Inf(-1), math.Inf(1), Volt), "NaN is in no range")
	assert.Error(t, motor.Range("voltage", 1, 2, 0, Volt), "a range upside down holds nothing")
	assert.Error(t, motor.Range("voltage", 1, math.NaN(), math.NaN(), Volt))
}

func TestErrorIsDomain(t *testing.T) {
	err := errors.Join(nil, motor.Range("voltage", 0, 10, 15e3, Volt), motor.Range("current", -1, 0, 1e4, Ampere))
	require.ErrorIs(t, err, ErrDomain)
	assert.NotErrorIs(t, err, errors.ErrUnsupported)
	var e *Error
	require.ErrorAs(t, err, &e)
	assert.Equal(t, Error{Package: "motor", Quantity: "voltage", Value: "0 V", Want: "10 V to 15 kV"}, *e)
	assert.Equal(t, "motor: voltage 0 V, want 10 V to 15 kV\nmotor: current -1 A, want 0 A to 10 kA", err.Error())
}

// Every unit of the list prints 1 of itself as 1.
func TestUnitsPrintThemselves(t *testing.T) {
	for _, u := range []Unit{
		One, Percent, Volt, Ampere, Watt, VoltAmpere, Ohm, Siemens, Metre, Second, Hertz, Pascal, Horsepower, PSI, Litre,
		USGallon, AmpereHour, WattHour, Minute, Hour, Foot, SquareMillimetre, Celsius,
	} {
		want := "1"
		if u.Symbol != "" {
			want += " " + u.Symbol
		}
		assert.Equal(t, want, u.show((1-u.Offset)*u.Size, shown))
	}
}

func TestEngineering(t *testing.T) {
	for want, x := range map[string]float64{
		"0 V": 0, "1 V": 1, "999 V": 999, "1 kV": 1e3, "-1.5 kV": -1500, "1 MV": 1e6, "1 GV": 1e9, "1e+06 GV": 1e15,
		"1 mV": 1e-3, "1 µV": 1e-6, "1e-07 V": 1e-7, "NaN V": math.NaN(),
	} {
		assert.Equal(t, want, Volt.show(x, shown))
	}
}

// Good input costs nothing.
func TestRangeAllocatesNothing(t *testing.T) {
	x := 230.0
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if motor.Range("voltage", x, 10, 15e3, Volt) != nil {
			t.Fail()
		}
		x += 0.1
	}))
}

func BenchmarkRange(b *testing.B) {
	x := 230.0
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if motor.Range("voltage", x, 10, 15e3, Volt) != nil {
				b.Fatal(x)
			}
			x += 1e-9
		}
	})
	b.Run("bare", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if !(x >= 10 && x <= 15e3) {
				b.Fatal(x)
			}
			x += 1e-9
		}
	})
}

func FuzzRange(f *testing.F) {
	f.Add(0.0, 10.0, 15e3)
	f.Add(math.NaN(), 1.0, 2.0)
	f.Fuzz(func(t *testing.T, x, lo, hi float64) {
		err := motor.Range("voltage", x, lo, hi, Volt)
		if inside := x >= lo && x <= hi; inside != (err == nil) {
			t.Errorf("%v in %v to %v: %v", x, lo, hi, err)
		}
		if err != nil && !errors.Is(err, ErrDomain) {
			t.Errorf("%v is no domain error", err)
		}
	})
}
