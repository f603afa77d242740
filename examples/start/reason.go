package main

import (
	"fmt"

	"ridethrough.example/motor"
)

// reason says why a start does not come up, with the figures that decide.
func (c *Case) reason(in *Input, r *motor.RunUpResult) string {
	rpm, last := float64(r.Speed/motor.RPM), r.Last
	balance := fmt.Sprintf("there the motor gives %s N·m at %s V, and load and friction take %s N·m",
		figure(float64(last.Torque)), figure(float64(last.Voltage)), figure(float64(last.LoadTorque)))
	switch r.Outcome {
	case motor.StandsStill:
		first := r.First
		if c.StartingNM == 0 {
			return "it hums and stands still: without a start winding it has no torque at rest"
		}
		return fmt.Sprintf("it hums and stands still: at rest the motor gives %s N·m at %s V, and the load must be moved with %s N·m",
			figure(float64(first.Torque)), figure(float64(first.Voltage)), figure(float64(first.LoadTorque)))
	case motor.HangsOnStart:
		return fmt.Sprintf("it hangs at %.0f rpm, below the %.0f rpm at which its start switch opens; %s; start winding and capacitor stay on and burn",
			rpm, switchOf(c.circuit)*in.synchronousRPM(), balance)
	case motor.HangsRunning:
		if r.SwitchOpen != 0 {
			return fmt.Sprintf("it hangs at %.0f rpm, below full speed, %.0f rpm: the start switch opened after %.2f s, and without its start winding the motor brings the load no further; %s",
				rpm, in.FullSpeedRPM, float64(r.SwitchOpen), balance)
		}
		return fmt.Sprintf("it hangs at %.0f rpm, below full speed, %.0f rpm; %s", rpm, in.FullSpeedRPM, balance)
	case motor.TimesOut:
		return fmt.Sprintf("it is at %.0f rpm after %g s and still gains speed: overload protection, start winding or capacitor do not last that long", rpm, in.UntilS)
	case motor.SourceGaveUp:
		return fmt.Sprintf("the source gives up at %.0f rpm after %.2f s: %v", rpm, float64(r.End), r.Cause)
	}
	return fmt.Sprintf("it comes up, but the source gives up after %.2f s: %v", float64(r.End), r.Cause)
}
