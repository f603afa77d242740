// Package inverter answers what an inverter takes from a battery, and whether
// inverter, battery and cables together start and run a load.
//
// # Files
//
//   - loss.go: dc power for an ac load and the reverse, by the quadratic loss
//     model of Schmidt & Sauer (1996); efficiency and its peak; loss at low
//     power factor
//   - fit.go: that model from efficiency points, from idle draw and one or two
//     points, or from nothing but a flat efficiency
//   - fit_points.go: that model from any number of idle draws and efficiencies,
//     by least squares
//   - voltage_loss.go: an efficiency that depends on the dc voltage (King et al.,
//     SAND2007-5036)
//   - operating.go: voltage, current and drops where a constant power is drawn
//     through battery, cable and contacts; collapse; the largest power above a
//     cut-off
//   - current.go: dc current from a flat efficiency, the 125 % rule for
//     continuous current (NEC 690.8 and its successors in article 706), ripple
//   - cutoff.go: the low-voltage cut-off, for running and for the dip of a
//     start kept apart
//   - voltage_switch.go: a cut-off that comes back by itself, with its delays
//   - loads.go: loads that run at once, W and VA
//   - carry.go: such loads carried by inverter and battery, each watt in one
//     place; the largest load above a cut-off
//   - surge.go: overload as (VA, seconds) pairs and the check of a demand;
//     what a current-limited output does to a start
//   - envelope.go: a demand that changes in time against a surge rating
//   - battery_limit.go: what a battery's management lets out, and for how long
//   - envelope_check.go: the same demand against the dc side, the cut-off and the
//     battery's management
//   - limited.go: an inverter that lowers its voltage where a limit acts, as the
//     source of a motor start
//   - limited_dc.go: the part of the dc side in it, and when it trips
//   - dclink.go: an inverter whose dc link is charged with limited power, as such
//     a source, and for a start instant by instant
//   - system.go: all of it together, with the weakest link named
//   - waveform.go: the three-level wave that is sold as modified sine: rms,
//     fundamental, distortion, what meters read, and the rms held by duty
//   - harmonics.go: its harmonics, distortion to a given order, null angles
//   - spectrum.go: the same of any sampled voltage
//   - hvf.go: harmonic voltage factor (NEMA MG 1, 30.1.2.1), and with triplens
//   - harmonicload.go: what a motor or a capacitor takes from such a voltage
//   - correction.go: apparent, real and reactive power; power-factor correction
//   - meter.go: what ac readings imply of a load, with the meters' accuracy
//   - dcmeter.go: dc readings: efficiency, and a source's resistance from two
//   - metered.go: what meters show of a load; metered energy; starts that a
//     meter was too slow to see
//   - split.go: the two legs of a 120/240 V pair, and their neutral
//   - balancer.go: a transformer that makes the neutral of a 240 V source
//   - stepup.go: a motor on the wrong voltage; a transformer from 120 to 240 V
//   - precharge.go: filling the input capacitors through a resistor, and the
//     inrush that is left
//   - strings.go: batteries in series and in parallel, how strings share a
//     current, the fuse of a string
//   - system_voltage.go: 12, 24 or 48 V, and the current that each means
//   - weighted.go: European (EN 50530) and CEC weighted efficiency
//   - energy.go: dc energy over a profile of runs and idle hours; charge at the
//     battery (IEEE 1013-2007 for the voltage); a check of meter readings
//   - standby.go: idle and search-mode energy over an outage
//   - discharge.go: how long a battery whose voltage falls with its charge
//     carries a constant power down to the cut-off
//   - verdict.go: passes, depends or fails, and the names of the links
//   - units.go, errors.go: units to multiply numbers with; the one argument
//     error
//
// # Reading a result
//
// Results are gonum unit types in SI units. Divide by a unit and convert:
//
//	float64(e / inverter.WattHour) // watt-hours
//
// The quotient alone keeps its type, so that printing e/inverter.WattHour
// shows a number of watt-hours labelled "J".
//
// # Conventions
//
// Every power says whether it is ac (out) or dc (in). Idle draw is part of the
// loss model and counted once: never add it to hours under load. Ampere-hours
// at 120 V are not ampere-hours at the battery.
//
// # Safety
//
// The formulas check arithmetic, not an installation. Stand-alone output must
// never reach a utility line: use listed transfer equipment that cannot
// connect both. A battery feeds thousands of amperes into a short circuit:
// fuse at the battery, with an interrupting rating above V/R. A motor that
// stalls on a weak inverter keeps its start winding energised and can burn.
// Do not set inverter or switchgear above vented cells, which give off
// hydrogen. Bonding, GFCI protection and 240 V pumps need their own look;
// local code and a licensed electrician decide.
package inverter
