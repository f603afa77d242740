package motor

// Zero amperes stand where the code prints nothing.

// table248 holds full-load currents (A) of single-phase motors.
//
// Source: NEC Table 430.248 (1999: 430-148; the values have not changed).
var table248 = codeTable{
	name:  "NEC Table 430.248",
	volts: [maxClasses]float64{115, 200, 208, 230},
	rows: []codeRow{
		{1.0 / 6, "1/6", [maxClasses]float64{4.4, 2.5, 2.4, 2.2}},
		{0.25, "1/4", [maxClasses]float64{5.8, 3.3, 3.2, 2.9}},
		{1.0 / 3, "1/3", [maxClasses]float64{7.2, 4.1, 4, 3.6}},
		{0.5, "1/2", [maxClasses]float64{9.8, 5.6, 5.4, 4.9}},
		{0.75, "3/4", [maxClasses]float64{13.8, 7.9, 7.6, 6.9}},
		{1, "1", [maxClasses]float64{16, 9.2, 8.8, 8}},
		{1.5, "1-1/2", [maxClasses]float64{20, 11.5, 11, 10}},
		{2, "2", [maxClasses]float64{24, 13.8, 13.2, 12}},
		{3, "3", [maxClasses]float64{34, 19.6, 18.7, 17}},
		{5, "5", [maxClasses]float64{56, 32.2, 30.8, 28}},
		{7.5, "7-1/2", [maxClasses]float64{80, 46, 44, 40}},
		{10, "10", [maxClasses]float64{100, 57.5, 55, 50}},
	},
}

// table250 holds full-load currents (A) of three-phase squirrel-cage and
// wound-rotor motors.
//
// Source: NEC Table 430.250 (1999: 430-150).
var table250 = codeTable{
	name:  "NEC Table 430.250",
	volts: [maxClasses]float64{115, 200, 208, 230, 460, 575, 2300},
	rows: []codeRow{
		{0.5, "1/2", [maxClasses]float64{4.4, 2.5, 2.4, 2.2, 1.1, 0.9}},
		{0.75, "3/4", [maxClasses]float64{6.4, 3.7, 3.5, 3.2, 1.6, 1.3}},
		{1, "1", [maxClasses]float64{8.4, 4.8, 4.6, 4.2, 2.1, 1.7}},
		{1.5, "1-1/2", [maxClasses]float64{12, 6.9, 6.6, 6, 3, 2.4}},
		{2, "2", [maxClasses]float64{13.6, 7.8, 7.5, 6.8, 3.4, 2.7}},
		{3, "3", [maxClasses]float64{0, 11, 10.6, 9.6, 4.8, 3.9}},
		{5, "5", [maxClasses]float64{0, 17.5, 16.7, 15.2, 7.6, 6.1}},
		{7.5, "7-1/2", [maxClasses]float64{0, 25.3, 24.2, 22, 11, 9}},
		{10, "10", [maxClasses]float64{0, 32.2, 30.8, 28, 14, 11}},
		{15, "15", [maxClasses]float64{0, 48.3, 46.2, 42, 21, 17}},
		{20, "20", [maxClasses]float64{0, 62.1, 59.4, 54, 27, 22}},
		{25, "25", [maxClasses]float64{0, 78.2, 74.8, 68, 34, 27}},
		{30, "30", [maxClasses]float64{0, 92, 88, 80, 40, 32}},
		{40, "40", [maxClasses]float64{0, 120, 114, 104, 52, 41}},
		{50, "50", [maxClasses]float64{0, 150, 143, 130, 65, 52}},
		{60, "60", [maxClasses]float64{0, 177, 169, 154, 77, 62, 16}},
		{75, "75", [maxClasses]float64{0, 221, 211, 192, 96, 77, 20}},
		{100, "100", [maxClasses]float64{0, 285, 273, 248, 124, 99, 26}},
		{125, "125", [maxClasses]float64{0, 359, 343, 312, 156, 125, 31}},
		{150, "150", [maxClasses]float64{0, 414, 396, 360, 180, 144, 37}},
		{200, "200", [maxClasses]float64{0, 552, 528, 480, 240, 192, 49}},
		{250, "250", [maxClasses]float64{0, 0, 0, 0, 302, 242, 60}},
		{300, "300", [maxClasses]float64{0, 0, 0, 0, 361, 289, 72}},
		{350, "350", [maxClasses]float64{0, 0, 0, 0, 414, 336, 83}},
		{400, "400", [maxClasses]float64{0, 0, 0, 0, 477, 382, 95}},
		{450, "450", [maxClasses]float64{0, 0, 0, 0, 515, 412, 103}},
		{500, "500", [maxClasses]float64{0, 0, 0, 0, 590, 472, 118}},
	},
}

// table251A holds maximum locked-rotor currents (A) of single-phase motors:
// six times table248 by convention.
//
// Source: NEC Table 430.251(A), 2008.
var table251A = codeTable{
	name:  "NEC Table 430.251(A)",
	volts: [maxClasses]float64{115, 208, 230},
	rows: []codeRow{
		{0.5, "1/2", [maxClasses]float64{58.8, 32.5, 29.4}},
		{0.75, "3/4", [maxClasses]float64{82.8, 45.8, 41.4}},
		{1, "1", [maxClasses]float64{96, 53, 48}},
		{1.5, "1-1/2", [maxClasses]float64{120, 66, 60}},
		{2, "2", [maxClasses]float64{144, 80, 72}},
		{3, "3", [maxClasses]float64{204, 113, 102}},
		{5, "5", [maxClasses]float64{336, 186, 168}},
		{7.5, "7-1/2", [maxClasses]float64{480, 265, 240}},
		{10, "10", [maxClasses]float64{600, 332, 300}},
	},
}

// table251B holds maximum locked-rotor currents (A) of three-phase motors of
// Design B, C and D.
//
// Source: NEC Table 430.251(B), 2008; the 230 V column is NEMA MG 1 12.35.
var table251B = codeTable{
	name:  "NEC Table 430.251(B)",
	volts: [maxClasses]float64{115, 200, 208, 230, 460, 575},
	rows: []codeRow{
		{0.5, "1/2", [maxClasses]float64{40, 23, 22.1, 20, 10, 8}},
		{0.75, "3/4", [maxClasses]float64{50, 28.8, 27.6, 25, 12.5, 10}},
		{1, "1", [maxClasses]float64{60, 34.5, 33, 30, 15, 12}},
		{1.5, "1-1/2", [maxClasses]float64{80, 46, 44, 40, 20, 16}},
		{2, "2", [maxClasses]float64{100, 57.5, 55, 50, 25, 20}},
		{3, "3", [maxClasses]float64{0, 73.6, 71, 64, 32, 25.6}},
		{5, "5", [maxClasses]float64{0, 105.8, 102, 92, 46, 36.8}},
		{7.5, "7-1/2", [maxClasses]float64{0, 146, 140, 127, 63.5, 50.8}},
		{10, "10", [maxClasses]float64{0, 186.3, 179, 162, 81, 64.8}},
		{15, "15", [maxClasses]float64{0, 267, 257, 232, 116, 93}},
		{20, "20", [maxClasses]float64{0, 334, 321, 290, 145, 116}},
		{25, "25", [maxClasses]float64{0, 420, 404, 365, 183, 146}},
		{30, "30", [maxClasses]float64{0, 500, 481, 435, 218, 174}},
		{40, "40", [maxClasses]float64{0, 667, 641, 580, 290, 232}},
		{50, "50", [maxClasses]float64{0, 834, 802, 725, 363, 290}},
		{60, "60", [maxClasses]float64{0, 1001, 962, 870, 435, 348}},
		{75, "75", [maxClasses]float64{0, 1248, 1200, 1085, 543, 434}},
		{100, "100", [maxClasses]float64{0, 1668, 1603, 1450, 725, 580}},
		{125, "125", [maxClasses]float64{0, 2087, 2007, 1815, 908, 726}},
		{150, "150", [maxClasses]float64{0, 2496, 2400, 2170, 1085, 868}},
		{200, "200", [maxClasses]float64{0, 3335, 3207, 2900, 1450, 1160}},
		{250, "250", [maxClasses]float64{0, 0, 0, 0, 1825, 1460}},
		{300, "300", [maxClasses]float64{0, 0, 0, 0, 2200, 1760}},
		{350, "350", [maxClasses]float64{0, 0, 0, 0, 2550, 2040}},
		{400, "400", [maxClasses]float64{0, 0, 0, 0, 2900, 2320}},
		{450, "450", [maxClasses]float64{0, 0, 0, 0, 3250, 2600}},
		{500, "500", [maxClasses]float64{0, 0, 0, 0, 3625, 2900}},
	},
}
