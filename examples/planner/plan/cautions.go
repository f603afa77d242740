package plan

// cautions returns what can hurt someone. They are part of every plan and
// nothing turns them off.
func cautions() []Caution {
	return []Caution{
		{"Backfeed", "Never feed a house through an outlet. A circuit that can see both sources needs transfer equipment or an interlock, or it puts line workers and neighbours at risk of death."},
		{"Battery fault current", "A short circuit across a battery delivers thousands of amperes until something melts. Fuse close to the battery with a device rated to interrupt that current at dc, cover the terminals, and keep rings and bare tools away."},
		{"Hydrogen", "Lead-acid batteries give off hydrogen while they charge, which explodes from 4 % in air. Ventilate the space, keep flames and sparks out, wear eye protection against acid."},
		{"Lithium", "Lithium cells need their management system, and must not be charged below 0 °C unless their maker says so. Damaged or swollen cells can burn: take them outside and out of use."},
		{"Carbon monoxide", "Where an engine or a generator helps out, run it outdoors, far from windows and vents, with a carbon monoxide alarm on every floor. It kills without smell."},
		{"Bonding and GFCI", "Neutral and ground are bonded at exactly one point in every mode of operation. A second bond trips ground-fault protection, none at all leaves a fault live and stops furnaces that sense their flame. Keep the ground-fault protection in."},
		{"240 V pumps", "A 240 V pump does not run from one 120 V output. Both of its wires are live: a switch in one of them leaves the motor at voltage."},
		{"Freezing", "Water that stands in pump, switch tube, tank tee or pipes below 0 °C bursts them. A flat lead-acid battery freezes near -10 °C, a full one does not in most winters. Drain what stands still."},
		{"Shock and pressure", "Disconnect and prove dead before opening a pump's control box: its capacitor holds a charge. Let the water pressure off before setting a tank's air."},
		{"Who decides", "These figures plan; they do not permit. Local code decides, and work on fixed wiring belongs to a licensed electrician."},
	}
}
