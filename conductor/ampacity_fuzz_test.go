package conductor

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/unit"
)

// Ampacity grows with size and with the rating of the insulation, and falls
// with ambient temperature and with the number of conductors; free air and
// marked terminals never lower it; the worksheet and the bare current agree.
func FuzzBranchMonotone(f *testing.F) {
	f.Add(uint8(5), uint8(1), 0.3, 0.7, uint8(3), uint8(9), false, false)
	f.Add(uint8(20), uint8(2), 0.9, 0.1, uint8(50), uint8(1), true, true)
	// A hair below the temperature of the insulation.
	f.Add(uint8(2), uint8(135), 0.06, 586.8, uint8(3), uint8(12), true, true)
	f.Fuzz(func(t *testing.T, size, rating uint8, hot, cold float64, n, m uint8, formula, aluminium bool) {
		i := smallestRow + int(size)%(codeSizes-smallestRow)
		c, h := fold(cold, -40, 85), fold(hot, -40, 85)
		if c > h {
			c, h = h, c
		}
		few, many := 1+int(min(n, m)), 1+int(max(n, m))
		b := Branch{Size: codeList[i], Metal: Copper, Insulation: codeRatings[rating%3], Ambient: Celsius(h), Conductors: many}
		if aluminium && i > smallestRow {
			b.Metal = Aluminium
		}
		if formula {
			b.AmbientRule = ByFormula
		}
		base, err := b.Current()
		if err != nil {
			if !errors.Is(err, ErrNoAmpacity) {
				t.Fatalf("%+v: %v", b, err)
			}
			return
		}
		w, err := b.Ampacity()
		if err != nil || w.Ampacity != base || !(base > 0) || !(w.Device > 0) {
			t.Fatalf("%+v: %v and %v, %v", b, w, base, err)
		}
		atLeast := func(what string, change func(*Branch)) {
			better := b
			change(&better)
			got, err := better.Current()
			if err != nil || got < base {
				t.Fatalf("%s: %+v has %v, %+v has %v: %v", what, b, base, better, got, err)
			}
		}
		atLeast("cooler", func(b *Branch) { b.Ambient = Celsius(c) })
		atLeast("fewer", func(b *Branch) { b.Conductors = few })
		atLeast("marked", func(b *Branch) { b.Terminals = Rated90C })
		if b.Insulation < Rated90C {
			atLeast("better insulation", func(b *Branch) { b.Insulation++ })
		}
		if i+1 < codeSizes {
			atLeast("larger", func(b *Branch) { b.Size = codeList[i+1] })
		}
		if b.Metal == Aluminium {
			atLeast("copper", func(b *Branch) { b.Metal = Copper })
		}
		if b.Metal == Copper && i < len(freeAirCopper) {
			atLeast("free air", func(b *Branch) { b.Place = InFreeAir })
		}
		if !formula {
			law := b
			law.AmbientRule = ByFormula
			// The table may be above the law by its rounding.
			if got, err := law.Current(); err != nil || float64(got) < float64(base)*(1-0.02) {
				t.Fatalf("%+v: by band %v, by formula %v, %v", b, base, got, err)
			}
		}
	})
}

// The law of ambient temperature: one base after the other is one step, and it
// falls with the ambient.
func FuzzAmbientLaw(f *testing.F) {
	f.Add(0.1, 0.2, 0.3)
	f.Add(0.9, 0.1, 0.5)
	f.Fuzz(func(t *testing.T, a, b, c float64) {
		tc, a1, a2 := fold(a, 60, 250), fold(b, -40, 54), fold(c, -40, 54)
		to, err1 := AmbientLaw(Celsius(tc), Celsius(a1), Celsius(a2))
		back, err2 := AmbientLaw(Celsius(tc), Celsius(a2), Celsius(a1))
		if err1 != nil || err2 != nil || math.Abs(to*back-1) > 1e-12 {
			t.Fatalf("%v from %v to %v: %v and back %v: %v, %v", tc, a1, a2, to, back, err1, err2)
		}
		if (to < 1) != (Celsius(a2) > Celsius(a1)) && to != 1 {
			t.Fatalf("%v from %v to %v: %v", tc, a1, a2, to)
		}
	})
}

// Any number gives an answer or an error; a rating lies on its side of the
// current, no other lies between, and it grows with the current.
func FuzzStandardRatings(f *testing.F) {
	f.Add(115.0, true)
	f.Add(math.NaN(), false)
	f.Add(6000.0, false)
	f.Fuzz(func(t *testing.T, x float64, fuse bool) {
		l := StandardBreakers
		if fuse {
			l = StandardFuses
		}
		i := unit.Current(x)
		up, err := l.Up(i)
		if err != nil {
			if !errors.Is(err, ErrDomain) || x >= 1e-3 && x <= 6000 {
				t.Fatalf("%v: %v", x, err)
			}
			return
		}
		if up < i*(1-1e-8) {
			t.Fatalf("%v up is %v", x, up)
		}
		for _, r := range l.All() {
			if r >= i && r < up {
				t.Fatalf("%v up is %v, but %v is nearer", x, up, r)
			}
		}
		down, err := l.Down(i)
		if err == nil && (down > i*(1+1e-8) || down > up) {
			t.Fatalf("%v down is %v", x, down)
		}
		device, err := l.ForAmpacity(i)
		if err != nil || device > 800 && device > i*(1+1e-8) || device > up {
			t.Fatalf("%v is protected by %v, %v", x, device, err)
		}
	})
}

// Whatever the motor, the device is at least what the table computes, and the
// grounding conductor never outgrows the conductors that it goes with.
func FuzzMotorCircuit(f *testing.F) {
	f.Add(12.0, 10.0, 1.15, 40.0, uint8(1), uint8(4), uint8(3), uint8(9))
	f.Add(math.Inf(1), math.NaN(), -1.0, 0.0, uint8(9), uint8(0), uint8(200), uint8(1))
	f.Fuzz(func(t *testing.T, flc, fla, sf, rise float64, kind, device, required, used uint8) {
		m := MotorCircuit{MotorKind(kind), unit.Current(flc), unit.Current(fla), sf, unit.Temperature(rise)}
		p, err := m.ShortCircuit(MotorDevice(device))
		switch {
		case err != nil && !errors.Is(err, ErrDomain):
			t.Fatal(err)
		case err == nil && !(p.Standard >= p.Computed*(1-1e-8) && p.Largest >= p.Standard && p.Computed > 0):
			t.Fatalf("%+v: %+v", m, p)
		}
		o, err := m.Overload()
		switch {
		case err != nil && !errors.Is(err, ErrDomain):
			t.Fatal(err)
		case err == nil && !(o.Largest > m.Nameplate && o.IfNoStart > o.Largest && o.IfNoStart <= 1.4*m.Nameplate):
			t.Fatalf("%+v: %+v", m, o)
		}
		r, u := codeList[int(required)%codeSizes], codeList[int(used)%codeSizes]
		g, err := GroundingUpsized(unit.Current(flc), Copper, r, u)
		if err != nil {
			if !errors.Is(err, ErrDomain) {
				t.Fatal(err)
			}
			return
		}
		least, err := GroundingConductor(unit.Current(flc), Copper)
		if err != nil || g.Compare(least) < 0 || g.Compare(least) > 0 && g.Compare(u) > 0 {
			t.Fatalf("%v A, %v as %v: %v, at least %v, %v", flc, r, u, g, least, err)
		}
	})
}
