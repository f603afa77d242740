// Package conductor computes what a wire is and what it costs in volts: the
// geometry of gauges, the resistance of copper and aluminium, and the voltage
// that is lost between a source and a motor, running and starting.
//
// # Files
//
//   - units.go: units of length, area, temperature and resistance per length
//   - size.go: the value type [Size]; AWG, kcmil and mm² in one order
//   - parse.go: sizes as text, "1/0 AWG", "250 kcmil", "35 mm²"
//   - awg.go: the American Wire Gauge (ASTM B258)
//   - iec.go: metric sizes by their maximum resistance (IEC 60228)
//   - material.go: resistivity and temperature coefficient (IEC 60028, IEC 60889)
//   - resistance.go: dc resistance with stranding, tinning and temperature
//   - tinning.go: what tinning adds, by the diameter of a strand (ASTM B33)
//   - table8.go: conductor properties of the code (NEC chapter 9, table 8)
//   - impedance.go: lines and loads as impedances
//   - drop.go: voltage drop, usual approximation and exact phasor form
//   - run.go: a run of several segments
//   - constant_power.go: a dc load of constant power at the end of a cable
//   - limits.go: the drop formula solved for resistance, area, length, current
//   - smallest.go: the smallest size for an allowed drop
//   - errors.go: argument errors, and the answers that are no numbers
//   - ampacity.go: temperature ratings, editions and sizes of the code's tables
//   - ampacity_raceway.go: basic ampacities in raceways (NEC table 310.16)
//   - ampacity_freeair.go: basic ampacities in free air (NEC table 310.17)
//   - ampacity_iec.go: capacities by installation method (IEC 60364-5-52)
//   - ambient.go: ambient temperature by formula; the points of IEC 60364-5-52
//   - ambient_table.go: ambient temperature by the code's bands (NEC 310.15(B))
//   - conductor_count.go: more than three conductors (NEC 310.15(C)(1))
//   - termination.go: terminals and small conductors (NEC 110.14(C), 240.4(D))
//   - standard_ratings.go: standard overcurrent devices (NEC 240.4, 240.6)
//   - branch_load.go: continuous and other load (NEC 210.19, 210.20)
//   - grounding.go: equipment grounding conductor (NEC 250.122)
//   - motor_circuit.go: conductors and disconnect of a motor (NEC 430.22, 430.24)
//   - motor_device.go: short-circuit device of a motor (NEC 430.52)
//   - motor_overload.go: overload device of a motor (NEC 430.32)
//   - branch.go: a circuit's conductor with all that the code asks for it
//   - worksheet.go: all of the code's steps for it, on one sheet
//   - branch_check.go: such a conductor against a load or a motor
//   - thermal_units.go: units of heat flow; heat capacity; resistance as a law of temperature
//   - steady.go: current and temperature by a given thermal resistance (Neher-McGrath)
//   - layers.go: thermal resistance of layers and soil (IEC 60287)
//   - rated_current.go: what an ampacity with its temperatures says of loss and heating
//   - freeair.go: one insulated conductor in still air: current, heat, temperatures
//   - convection.go: what a surface loses in still air (Churchill-Chu, radiation)
//   - transient.go: heating in time, runaway current, time to a limit
//   - heating_errors.go: runaway, too hot, never reached: the answers that are no numbers
//   - cycle.go: heating by a current that comes and goes
//   - duty.go: duty-cycle multipliers (NEC table 630.11(A)) and why pumps want others
//   - marine.go: boat practice, circular mils by K (ABYC E-11)
//   - boat_cable.go: ampacity of 105 °C boat cable (ABYC E-11), areas of vehicle cable (SAE J1127, J1128)
//   - aircraft.go: aircraft wire (AC 43.13-1B)
//   - flexible.go: class K cable of one maker, diameters and currents
//   - skin.go: skin effect by Bessel functions; skin and proximity effect of IEC 60287-1-1
//   - table9.go: ac resistance and reactance of the code (NEC chapter 9, table 9)
//   - path.go: all resistances in series, what is lost where; the locked rotor's 65 %
//   - adiabatic.go: short-time limits of current, time and area by a factor k (IEC 60364, ICEA)
//   - heating_law.go: k from the constants of a metal; temperature after a surge (IEC 60949, ICEA P-32-382)
//   - fusing.go: when bare wire melts, destruction limits (Onderdonk, Preece)
//   - protection.go: rating of a fuse or breaker between load and cable (NEC 240, IEC 60364-4-43)
//   - surge.go: what such devices stand for a short time; how far from the battery they may be
//   - short_circuit.go: prospective short-circuit current of a battery bank
//   - interrupting.go: what a device may interrupt, by its marks for direct current (NEC 110.9, ABYC E-11)
//   - stud.go: studs, clearance holes, holes of ring terminals (ISO 273, ASME B18.2.8)
//   - terminal.go: how a stud goes into the hole of a terminal
//   - bend.go: least radius of a bend, strain of the strands (NEC 305.5, ICEA S-95-658)
//   - bend_path.go: whether a cable can be bent between two studs
//   - choose.go: the smallest or cheapest conductor that passes all limits
//   - choose_limits.go: those limits
//   - choose_checks.go: one conductor beside each of them
//
// # Lengths are one way
//
// Every length is the distance from source to load, in fields and parameters
// named OneWay. The way back is in the [Circuit]: a factor 2 for dc and for
// single phase, √3 for the line-to-line drop of three phases. Marine and
// aircraft tables print the whole length of the loop: halve it, or use
// [MarineRun], which alone counts out and back and says so in its field's name.
//
// # Direct or alternating current
//
// Up to 4/0 AWG at 50 or 60 Hz skin effect is under half a percent: take
// [Wire.Resistance] or [Table8], and a reactance of [Table9]. A large conductor
// by itself, or the harmonics and the ripple of an inverter, want
// [ACResistance]; cores that touch want [ProximityEffectIEC] beside it. Large
// conductors in conduit, and all in steel conduit, want [Table9], which holds
// neighbours and conduit but only two figures.
//
// # Reading a result back
//
// Quantities are gonum unit types in SI units. Divide by a unit and convert:
//
//	feet := float64(length / conductor.Foot)
//	perKilofoot := float64(r / conductor.OhmPerKilofoot)
//
// Without the conversion the quotient keeps its type, so that
// fmt.Println(length/conductor.Foot) prints a number of feet with the unit m.
// Temperatures are points in kelvin: [Celsius](75) makes one, [InCelsius]
// reads it. A bare literal compiles too and means SI: OneWay: 60 is 60 m.
//
// # Cautions
//
// A cable that keeps the voltage drop small is not thereby safe. Ampacity,
// terminations, overcurrent protection close to the battery and local code
// decide as well, and often ask for a larger size. The code's rules stand here
// as they read, without the exceptions and permissions of its many articles.
// Temperature matters: the same copper at 75 °C drops 22 % more than at 20 °C.
// Cable sold by "gauge" for vehicles holds 3 to 11 % less copper than its AWG
// number says. A melting current is where destruction is certain and no rating
// of anything. A fuse near a battery must be marked to interrupt the battery's
// short-circuit current at its dc voltage, thousands of amperes whatever the fuse
// is rated for. Have the installation checked by a licensed electrician.
package conductor
