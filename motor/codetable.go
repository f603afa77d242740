package motor

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"
)

// CodeFullLoadCurrent returns the full-load line current (A, rms) that the
// code assumes for any motor of that horsepower and voltage: NEC Table
// 430.248 for one phase, 430.250 for three.
//
// It is for conductors, switches and branch-circuit protection only, and
// pessimistic on purpose: its 9.8 A for 1/2 hp at 115 V leave 33 % of the
// volt-amperes at the shaft, where small motors reach 39 to 81 %. Overload
// protection goes by the nameplate, energy and watts by [Nameplate.Running].
//
// The horsepower must be one of the table's, to 0.1 %, and the voltage one of
// its classes: exactly 115, 200, 208, 230, 460, 575 or 2300 V, or inside the
// system range 110 to 120, 220 to 240, 440 to 480 or 550 to 600 V. There is
// no interpolation: anything else is an error that wraps [ErrDomain] and
// names the neighbours.
//
// Source: NEC (NFPA 70) Tables 430.248 and 430.250; 430.6(A).
func CodeFullLoadCurrent(output unit.Power, voltage unit.Voltage, phases int) (unit.Current, error) {
	if phases == 3 {
		return table250.at(output, voltage, phases)
	}
	return table248.at(output, voltage, phases)
}

// CodeLockedRotorCurrent returns the maximum locked-rotor line current (A,
// rms) of the code for a motor of that horsepower and voltage: NEC Table
// 430.251(A) for one phase, 430.251(B), for Design B, C and D, for three. The
// arguments are read as [CodeFullLoadCurrent] does; one phase begins at 1/2 hp.
//
// It is for choosing disconnects and controllers. Single-phase values are six
// times the full-load table, a convention and no measurement: a two-wire
// submersible of 1/2 hp draws 64.4 A at 115 V where the table says 58.8 A,
// and many motors draw less.
//
// Source: NEC (NFPA 70) Tables 430.251(A) and 430.251(B); 430.110, 440.12.
func CodeLockedRotorCurrent(output unit.Power, voltage unit.Voltage, phases int) (unit.Current, error) {
	if phases == 3 {
		return table251B.at(output, voltage, phases)
	}
	return table251A.at(output, voltage, phases)
}

const maxClasses = 7

// A codeTable is a table of amperes by horsepower and voltage class. The
// tables are package data and are never modified.
type codeTable struct {
	name  string
	volts [maxClasses]float64
	rows  []codeRow
}

// A codeRow is one horsepower; zero amperes are not listed.
type codeRow struct {
	hp      float64
	printed string
	amps    [maxClasses]float64
}

// systemRanges are the system voltages for which a class may be used.
//
// Source: NEC Tables 430.248 and 430.250, notes above the columns. Newer
// editions extend the last to 1000 V.
var systemRanges = [...]struct{ class, lo, hi float64 }{
	{115, 110, 120}, {230, 220, 240}, {460, 440, 480}, {575, 550, 600},
}

// column returns the column of a voltage, or -1.
func (t *codeTable) column(v float64) int {
	for _, s := range systemRanges {
		if v >= s.lo && v <= s.hi {
			v = s.class
		}
	}
	for i, class := range t.volts {
		if class != 0 && v == class {
			return i
		}
	}
	return -1
}

// at returns the amperes of a cell.
func (t *codeTable) at(output unit.Power, voltage unit.Voltage, phases int) (unit.Current, error) {
	hp, column := float64(output/Horsepower), t.column(float64(voltage))
	row := -1
	for i := range t.rows {
		if hp >= t.rows[i].hp*0.999 && hp <= t.rows[i].hp*1.001 {
			row = i
			break
		}
	}
	if row >= 0 && column >= 0 && checkPhases(phases) == nil && t.rows[row].amps[column] != 0 {
		return unit.Current(t.rows[row].amps[column]), nil
	}
	return 0, t.refuse(output, voltage, phases, row, column)
}

// refuse says what of a look-up is not in the table, and what is.
func (t *codeTable) refuse(output unit.Power, voltage unit.Voltage, phases, row, column int) error {
	err := errors.Join(checkOutput(output), checkVoltage(voltage), checkPhases(phases))
	if err != nil {
		return err
	}
	if column < 0 {
		err = pkg.Invalid("voltage", fmt.Sprintf("%.6g", voltage), "a class of "+t.name+": "+t.classes())
	}
	value := fmt.Sprintf("%.6g hp", float64(output/Horsepower))
	switch {
	case row < 0:
		err = errors.Join(err, pkg.Invalid("output", value, "a row of "+t.name+": "+t.neighbours(float64(output/Horsepower))))
	case column >= 0:
		err = pkg.Invalid("output", value, fmt.Sprintf("an entry of %s at %g V, which lists %s", t.name, t.volts[column], t.listed(column)))
	}
	return err
}

// classes lists the voltage classes.
func (t *codeTable) classes() string {
	s := ""
	for _, v := range t.volts {
		if v != 0 {
			s += fmt.Sprintf("%g, ", v)
		}
	}
	return s[:len(s)-2] + " V, or 110 to 120, 220 to 240 V and so on"
}

// neighbours names the rows on either side of hp.
func (t *codeTable) neighbours(hp float64) string {
	last := len(t.rows) - 1
	switch {
	case hp < t.rows[0].hp:
		return "it begins at " + t.rows[0].printed + " hp"
	case hp > t.rows[last].hp:
		return "it ends at " + t.rows[last].printed + " hp"
	}
	i := 0
	for hp > t.rows[i].hp {
		i++
	}
	return "next are " + t.rows[i-1].printed + " and " + t.rows[i].printed + " hp"
}

// listed names the first and the last row with an entry in a column.
func (t *codeTable) listed(column int) string {
	first, last := "", ""
	for _, r := range t.rows {
		if r.amps[column] != 0 {
			if first == "" {
				first = r.printed
			}
			last = r.printed
		}
	}
	return first + " to " + last + " hp"
}
