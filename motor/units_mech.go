package motor

import "ridethrough.example/internal/quantity"

// An Inertia is a moment of inertia (kg·m²), which the trade calls Wk² and
// gives in pound square feet.
type Inertia = quantity.Inertia

// A Speed is the angular speed of a shaft (rad/s): 1710*motor.RPM.
type Speed = quantity.Speed

// Units of the shaft.
const (
	KilogramSquareMetre = quantity.KilogramSquareMetre
	// PoundSquareFoot is 0.042 140 1 kg·m².
	PoundSquareFoot = quantity.PoundSquareFoot
	// RPM is one revolution a minute.
	RPM = quantity.RPM
	// FootPound is the torque of a pound-force at a foot, 1.355 818 N·m.
	FootPound = quantity.FootPound
)
