// Package battery computes what a battery bank gives: how long at a current,
// how much in the cold and with age, at what voltage, through what resistance.
//
// The files, and what each follows:
//
//   - units.go: the units that this package speaks
//   - errors.go: argument errors, and the bounds that several files share
//   - chemistry.go: flooded, AGM, gel, lithium iron phosphate
//   - rating.go: ampere-hours with the hour rate they hold at
//   - peukert.go: run time against current (Peukert's law of 1897 in rated-hour form)
//   - exponent.go: the exponent from two ratings, reserve minutes or a rate table
//   - duty.go: loads that switch on and off, as a bracket of two Peukert figures
//   - rate_law.go, rate_fit.go: the generalised rate law, and laws fitted to a maker's table with their error
//   - kinetic.go, kinetic_step.go, kinetic_run.go: the two-well model, which credits rests, for steps, loads and repeated cycles (Manwell and McGowan, 1993)
//   - kinetic_kernel.go: its arithmetic in plain numbers
//   - kinetic_duty.go: several on/off loads as one cycle, and a battery's condition under it
//   - kinetic_fit.go: its parameters from a table, from two ratings or from Peukert's law
//   - diffusion.go: an independent model to lay beside it (Rakhmatov and Vrudhula, 2001)
//   - temperature.go: sizing factors (IEEE 485, Table 1), and makers' figures for other types
//   - usable.go: what is left of the rating with each reduction stated once (the factors of IEEE 485 and 1013)
//   - bank.go: blocks in series and parallel
//   - ocv.go, charts.go: rest voltage and state of charge, as bands over the published charts (common practice)
//   - resistance.go: internal resistance and fault current (Ohm's law, as IEEE 946 uses it)
//   - shepherd.go: voltage on discharge (Shepherd, 1965)
//   - tremblay.go, tremblay_state.go, tremblay_fit.go: voltage on discharge and charge, and its parameters from three points (Tremblay and Dessaint, 2009)
//   - voltage.go, voltage_bank.go: rest voltage behind a resistance, over the state of charge, from points or for a bank
//   - load_point.go, constant_power.go: a load of constant power and its discharge, to the cut-off, the depth limit or the collapse
//   - trip.go: the state of charge under which a load trips the cut-off
//   - gravity.go: rest voltage from the specific gravity of the acid, and its freezing point (US Army TM 5-1185)
//   - dutycycle.go: periods of current or power, and a random load (IEEE 485)
//   - cellrate.go: the rating factor K_T from a maker's table, in the K_T or the R_T form, or from Peukert's law
//   - sizing.go: the size of a battery for a duty cycle, with its worksheet (IEEE 485, section method)
//   - autonomy.go: the size for days without charging (IEEE 1013)
//   - coldfactor.go: size and capacity in colder places than the IEEE 485 table knows
//   - electrolyte.go: gravity and freezing point at a state of charge, and what a hydrometer's reading is worth
//   - life.go, cyclelife.go: life against temperature (IEEE 450) and against depth of discharge
//   - selfdischarge.go: loss in storage, and what a maintainer must supply
//   - setpoints.go: absorption, float and equalising voltages by chemistry and temperature (IEC 62485-2, makers' sheets)
//   - chargelimit.go: the charging current that a battery takes, by chemistry and temperature
//   - recharge.go: time to recharge beside a standing load, or never (charger makers' arithmetic)
//   - chargeinput.go, generator.go: what the charger draws, and a generator's fuel for it (Willans' line)
//   - ventilation.go, hydrogen.go: airflow of a battery room (IEC 62485-2; the ampere rule of IEEE 484 and 1635)
//   - faultloop.go: rise and let-through of a fault current (IEEE 946)
//   - preset.go: all that is taken as typical of a chemistry, and where it is from
//   - flow.go: volume a time
//
// The conventions: a discharge current is positive; ratios are fractions of 1,
// never per cent; voltages of the chart functions are per cell, those of
// [Block] and [Bank] at their terminals. A result that is known as a band is a
// [Range] with a low and a high end.
//
// # Units
//
// Quantities are gonum unit types, which hold SI units. Multiply by a unit to
// put a figure in, divide by it and convert to float64 to read it back:
//
//	r := battery.Rating{Capacity: 100 * battery.AmpereHour, Time: 20 * battery.Hour}
//	hours := float64(t / battery.Hour)
//
// The quotient keeps its type: t/battery.Hour, printed as it is, reads "19 s".
//
// # What this package does not know
//
// Peukert's law holds for a constant current, near 25 °C, from full charge, to
// one end voltage, between the two rates that gave the exponent. It knows no
// rest and no recovery; [Peukert.Duty] therefore returns a bracket. [Kinetic]
// knows rests, but no voltage, temperature or loss of charge. [Recharge.Time]
// does not know how the charger's current falls with the voltage: it puts the
// hours of the last part in, as the trade states them.
//
// # Safety
//
// A battery cannot be switched off. A wrench across the terminals of a small
// bank draws thousands of amperes ([Bank.FaultCurrent]): put a fuse with a
// sufficient interrupting rating at the battery, cover the terminals, take off
// rings. A lead-acid battery gives off hydrogen while it charges: ventilate
// ([Bank.Ventilation]). The acid of a flat lead-acid battery freezes near
// -10 °C, and must thaw before it is charged; lithium iron phosphate must not
// be charged below 0 °C ([Bank.CheckCharger]). Above 60 V dc the voltage itself
// is a shock hazard. Local code and licensed practice decide.
package battery
