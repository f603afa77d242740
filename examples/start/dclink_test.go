package main

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/reftest"
	"ridethrough.example/inverter"
	"ridethrough.example/motor"
)

// The sources of inverter are what motor asks for, though neither package knows
// the other.
var (
	_ motor.Source = inverter.Limited{}
	_ motor.Source = inverter.DCLink{}
	_ motor.Linked = inverter.DCLink{}
)

// The starts on an inverter whose dc link gets little power, instant by instant and by rms
// values.
func TestStartBehindALink(t *testing.T) {
	for _, row := range reftest.Rows(t, "motor/start_dclink.csv") {
		r := motor.RunUp{
			Circuit: motor.SinglePhaseCircuit{
				Voltage: 110, Frequency: 60, Poles: 4, R1: 2.02, X1: 2.79, R2: 4.12, X2: 2.12, Xm: 66.8,
				Auxiliary: motor.Auxiliary{
					Turns: 1.18, R: 7.14, X: 3.22, Switch: 0.75,
					Start: motor.Branch{Resistance: 3, Capacitance: unit.Capacitance(1 / (2 * math.Pi * 60 * 14.5))},
				},
			},
			Source: inverter.DCLink{
				Voltage: 110, Frequency: 60, Capacitance: 2000e-6, Full: 180, Conductance: 5,
				Power: unit.Power(row.Float("limit_value")),
			},
			Inertia: 0.0146,
		}
		if row.Text("load") == "quadratic" {
			r.Load = motor.CentrifugalLoad{Rated: 1.0324312, Speed: 1725 * motor.RPM}
		}
		got, err := r.Dynamic(0, 1e-8)
		require.NoError(t, err)
		const why = "accuracy of the independent solver"
		row.Within("t_75pct_s", float64(got.SwitchOrdered), 1e-7, why)
		row.Within("t_switch_open_s", float64(got.SwitchOpen), 1e-7, why)
		row.Within("v_link_min_fine_v", float64(got.LeastLink), 1e-6, "error of the fixed steps")
		row.Digits("t_90pct_s", float64(got.FullSpeed), 2, "the reference found it to 5e-5 s")

		// So near are the rms values, though the sinusoid of a link that sags is an
		// assumption.
		slow, err := r.QuasiSteady()
		require.NoError(t, err)
		assert.Equal(t, motor.Starts, slow.Outcome)
		assert.InEpsilon(t, float64(got.FullSpeed), float64(slow.FullSpeed), 0.031, row.Source())
		assert.InEpsilon(t, float64(got.SwitchOpen), float64(slow.SwitchOpen), 0.016, row.Source())
	}
}

// What one package takes for a link the other takes as well.
func TestBoundsOfALinkAgree(t *testing.T) {
	r := motor.RunUp{
		Circuit: motor.SinglePhaseCircuit{Voltage: 110, Frequency: 60, Poles: 4, R1: 2.02, X1: 2.79, R2: 4.12, X2: 2.12, Xm: 66.8},
		Inertia: 0.0146, Until: 0.02,
	}
	for _, l := range []inverter.DCLink{
		{Capacitance: 10e-6, Full: 2000, Conductance: 1, Power: 20},
		{Capacitance: 10, Full: 156, Conductance: 100e3, Power: 10e6},
		{Capacitance: 10e-6, Full: 156, Conductance: 10e-3},
		{Capacitance: 9e-6, Full: 180, Conductance: 0.5},
		{Capacitance: 11, Full: 180, Conductance: 5},
		{Capacitance: 10e-3, Full: 2001, Conductance: 5},
		{Capacitance: 10e-3, Full: 180, Conductance: 9e-3},
		{Capacitance: 10e-3, Full: 180, Conductance: 2000},
		{Capacitance: 10e-3, Full: 180, Conductance: 5, Power: 19},
		{Capacitance: 10e-3, Full: 180, Conductance: 5, Power: 11e6},
	} {
		l.Voltage, l.Frequency = 110, 60
		r.Source = struct {
			motor.Source
			motor.Linked
		}{motor.Line{Voltage: 110, Frequency: 60, Phases: 1}, l}
		_, err := r.Dynamic(0, 1e-6)
		assert.Equal(t, l.Validate() == nil, err == nil, "%+v: %v", l, err)
	}
}
