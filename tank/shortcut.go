package tank

import "gonum.org/v1/gonum/unit"

// GaugeOnlyDrawdown returns what comes of Boyle's law with the atmosphere left
// out, the commonest slip of the trade,
//
//	Vd = V·Ppre·(1/Pon − 1/Poff)   (wrong)
//
// in the symbols of [Vessel.Drawdown]. It is too much by a quarter for a 30/50
// switch: 31.7 gal of 85 where 25.1 come out. It is here to be shown beside
// the result, not to be planned with. Errors are those of [Vessel.Validate]; a
// precharge above cut-in is not noticed, as the slip would not.
//
// Common practice: arithmetic as met on installers' pages.
func (v Vessel) GaugeOnlyDrawdown() (unit.Volume, error) {
	if err := v.Validate(); err != nil {
		return 0, err
	}
	pre, on, off := float64(v.Precharge), float64(v.CutIn), float64(v.CutOut)
	return unit.Volume(float64(v.Volume) * pre * (1/on - 1/off)), nil
}

// ThirdOfVolume returns the rule of thumb that a third of the tank comes out
// between starts,
//
//	Vd = V/3   (a guess)
//
// where V is v.Volume (m³). At 20/40 it is close, at 30/50 an eighth too much,
// at 40/60 over a quarter. It is here to be shown beside the result. Errors are
// those of [Vessel.Validate].
//
// Common practice: rule of thumb.
func (v Vessel) ThirdOfVolume() (unit.Volume, error) {
	if err := v.Validate(); err != nil {
		return 0, err
	}
	return v.Volume / 3, nil
}

// QuickVolume returns the homeowner's rule for a tank on a 40/60 switch with a
// one-minute run, four times what the pump delivers in a minute,
//
//	V = 4 min · Q   (rounded up)
//
// where Q is the pump's flow (m³/s). Boyle's law asks for 3.7 to 3.9. Outside
// the range of [System].Pump err wraps [ErrDomain].
//
// Common practice: dealers' advice.
func QuickVolume(pump FlowRate) (unit.Volume, error) {
	if err := pumpRange(pump); err != nil {
		return 0, err
	}
	return unit.Volume(4 * float64(Minute) * float64(pump)), nil
}
