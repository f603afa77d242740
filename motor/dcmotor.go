package motor

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"
)

// table247 holds full-load currents (A) of direct-current motors at base
// speed, by armature voltage.
//
// Source: NEC Table 430.247, 2008. From memory: the rows from 10 hp on and the
// column of 550 V.
var table247 = codeTable{
	name:  "NEC Table 430.247",
	volts: [maxClasses]float64{90, 120, 180, 240, 500, 550},
	rows: []codeRow{
		{0.25, "1/4", [maxClasses]float64{4, 3.1, 2, 1.6, 0, 0}},
		{1.0 / 3, "1/3", [maxClasses]float64{5.2, 4.1, 2.6, 2, 0, 0}},
		{0.5, "1/2", [maxClasses]float64{6.8, 5.4, 3.4, 2.7, 0, 0}},
		{0.75, "3/4", [maxClasses]float64{9.6, 7.6, 4.8, 3.8, 0, 0}},
		{1, "1", [maxClasses]float64{12.2, 9.5, 6.1, 4.7, 0, 0}},
		{1.5, "1-1/2", [maxClasses]float64{0, 13.2, 8.3, 6.6, 0, 0}},
		{2, "2", [maxClasses]float64{0, 17, 10.8, 8.5, 0, 0}},
		{3, "3", [maxClasses]float64{0, 25, 16, 12.2, 0, 0}},
		{5, "5", [maxClasses]float64{0, 40, 27, 20, 0, 0}},
		{7.5, "7-1/2", [maxClasses]float64{0, 58, 0, 29, 13.6, 12.2}},
		{10, "10", [maxClasses]float64{0, 76, 0, 38, 18, 16}},
		{15, "15", [maxClasses]float64{0, 0, 0, 55, 27, 24}},
		{20, "20", [maxClasses]float64{0, 0, 0, 72, 34, 31}},
		{25, "25", [maxClasses]float64{0, 0, 0, 89, 43, 38}},
		{30, "30", [maxClasses]float64{0, 0, 0, 106, 51, 46}},
		{40, "40", [maxClasses]float64{0, 0, 0, 140, 67, 61}},
		{50, "50", [maxClasses]float64{0, 0, 0, 173, 83, 75}},
		{60, "60", [maxClasses]float64{0, 0, 0, 206, 99, 90}},
		{75, "75", [maxClasses]float64{0, 0, 0, 255, 123, 111}},
		{100, "100", [maxClasses]float64{0, 0, 0, 341, 164, 148}},
		{125, "125", [maxClasses]float64{0, 0, 0, 425, 205, 185}},
		{150, "150", [maxClasses]float64{0, 0, 0, 506, 246, 222}},
		{200, "200", [maxClasses]float64{0, 0, 0, 675, 330, 294}},
	},
}

// CodeDCFullLoadCurrent returns the full-load current (A) that the code assumes
// for a direct-current motor of that horsepower at base speed, by its rated
// armature voltage: 90, 120, 180, 240, 500 or 550 V. An average, for
// conductors and protection; watts go by the plate or a meter.
//
// The horsepower must be one of the table's, to 0.1 %, and the voltage exactly
// one of its columns. There is no interpolation and no class of neighbouring
// voltages: anything else, a battery's 12 or 48 V too, is an error that wraps
// [ErrDomain] and names what there is.
//
// Source: NEC (NFPA 70) Table 430.247, 2008; 430.6(A). From memory: the rows
// from 10 hp on and the column of 550 V, which want checking against the code.
func CodeDCFullLoadCurrent(output unit.Power, armature unit.Voltage) (unit.Current, error) {
	hp, row, column := float64(output/Horsepower), -1, -1
	for i := range table247.rows {
		if hp >= table247.rows[i].hp*0.999 && hp <= table247.rows[i].hp*1.001 {
			row = i
		}
	}
	for i, v := range table247.volts {
		if v != 0 && float64(armature) == v {
			column = i
		}
	}
	if row >= 0 && column >= 0 && table247.rows[row].amps[column] != 0 {
		return unit.Current(table247.rows[row].amps[column]), nil
	}
	return 0, refuseDC(output, armature, row, column)
}

// refuseDC says what of a look-up is not in the table, and what is.
func refuseDC(output unit.Power, armature unit.Voltage, row, column int) error {
	err := checkOutput(output)
	if column < 0 {
		err = errors.Join(err, pkg.Invalid("armature voltage", fmt.Sprintf("%.6g", armature), "a column of "+table247.name+": 90, 120, 180, 240, 500 or 550 V"))
	}
	value := fmt.Sprintf("%.6g hp", float64(output/Horsepower))
	switch {
	case row >= 0 && column >= 0:
		err = pkg.Invalid("output", value, fmt.Sprintf("an entry of %s at %g V, which lists %s", table247.name, table247.volts[column], table247.listed(column)))
	case row < 0 && checkOutput(output) == nil:
		err = errors.Join(err, pkg.Invalid("output", value, "a row of "+table247.name+": "+table247.neighbours(float64(output/Horsepower))))
	}
	return err
}
