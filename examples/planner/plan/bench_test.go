package plan

import (
	"testing"

	"github.com/stretchr/testify/require"

	"ridethrough.example/inverter"
	"ridethrough.example/motor"
)

// The start through the chain beside the same start on a plain voltage.
func BenchmarkStartChain(b *testing.B) {
	c := weakStarts(b)[0]
	b.Run("kernel", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := c.follow(); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("bare", func(b *testing.B) {
		r := c.run
		r.Source = motor.Line{Voltage: c.inverter.Voltage, Frequency: c.inverter.Frequency, Phases: 1}
		b.ReportAllocs()
		for b.Loop() {
			if _, err := r.QuasiSteady(); err != nil {
				b.Fatal(err)
			}
		}
	})
	held := c
	held.inverter.Surge = inverter.Surge{Continuous: 600, Points: []inverter.SurgePoint{{Apparent: 2500, For: 9}}}
	b.Run("held", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := held.follow(); err != nil {
				b.Fatal(err)
			}
		}
	})
	trips := c
	trips.inverter.CutOff = inverter.CutOff{Running: 23.5, Start: 20, Allowed: 0.06}
	b.Run("trips", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := trips.follow(); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// A whole plan, and one whose starts fail, so that remedies are sought.
func BenchmarkMake(b *testing.B) {
	sample := mustRead(b, sampleText(b))
	for name, site := range map[string]Site{"sample": sample, "c10": siteFile(b, "c10_one_hp")} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, err := Make(site)
				require.NoError(b, err)
			}
		})
	}
}
