package motor

import "gonum.org/v1/gonum/unit"

// A Ramp is how a soft starter or a drive brings a motor up.
type Ramp struct {
	// Voltage is the share of full voltage reached first, 0 for a frequency
	// ramp.
	Voltage float64
	// Frequency is what is reached first (Hz), 0 for a voltage ramp.
	Frequency unit.Frequency
	// First is the time by which that is reached (s).
	First unit.Time
	// Full is the time by which full voltage or frequency is reached (s), from
	// the beginning.
	Full unit.Time
}

// SubmersibleVoltageRamp returns what the trade asks of a soft starter before
// a submersible pump: 80 % voltage within 1 s, all of it within about 4 s.
//
// Common practice: application guides of submersible motors.
func SubmersibleVoltageRamp() Ramp { return Ramp{Voltage: 0.8, First: 1, Full: 4} }

// SubmersibleFrequencyRamp returns what the trade asks of a drive before a
// submersible pump: 30 Hz within 1 s, for below it the thrust bearing has no
// film of water, and full frequency within about 4 s.
//
// Common practice: application guides of submersible motors.
func SubmersibleFrequencyRamp() Ramp { return Ramp{Frequency: 30, First: 1, Full: 4} }

// KeepsTo reports whether the ramp is at least as quick as another: as much of
// voltage and frequency as that at first, in no more time, and full in no more
// time. A field that is no number does not keep to anything.
//
// Definition: the four fields, each compared by itself.
func (r Ramp) KeepsTo(practice Ramp) bool {
	return r.Voltage >= practice.Voltage && r.Frequency >= practice.Frequency &&
		r.First >= 0 && r.First <= practice.First && r.Full >= r.First && r.Full <= practice.Full
}
