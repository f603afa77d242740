package motor

import "gonum.org/v1/gonum/unit"

// A DrivenLoad is what a motor drives. The zero value is not known.
type DrivenLoad byte

// The driven loads whose starts are told apart.
const (
	UnknownLoad     DrivenLoad = iota
	Pump                       // jet, sump or circulating pump
	SubmersiblePump            // a motor of very small inertia
	Compressor                 // refrigerator, freezer, small air conditioner
)

// StartDuration returns how long a start at full voltage usually lasts: 0.3
// to 1 s for a pump, 0.2 to 0.5 s for a submersible one, 1 to 3 s for a
// compressor, 0.2 to 3 s if not known. At reduced voltage a start lasts longer
// or never ends; the start switch of a healthy motor has opened within 3 to
// 5 s.
//
// Common practice: pump and compressor. Source: application manuals of
// submersible motors for full speed in half a second or less.
func (l DrivenLoad) StartDuration() Range[unit.Time] {
	switch l {
	case Pump:
		return Range[unit.Time]{Low: 0.3, High: 1}
	case SubmersiblePump:
		return Range[unit.Time]{Low: 0.2, High: 0.5}
	case Compressor:
		return Range[unit.Time]{Low: 1, High: 3}
	}
	return Range[unit.Time]{Low: 0.2, High: 3}
}
