package inverter

import (
	"errors"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Balancer is an autotransformer across the two legs of a 240 V source, whose
// middle tap makes a neutral: it lets an inverter of 240 V alone feed loads of
// 120 V, and two stacked ones share loads that all hang on one leg.
type Balancer struct {
	Leg    unit.Voltage  // each leg to neutral, 100 to 130 V
	Rating ApparentPower // of the difference between the legs' loads, 10 VA to 1 MVA
	Loss   float64       // standing loss over Rating, 0 to 0.1; 0.01 to 0.03 as a rule
	Inrush float64       // first peak of the magnetising current over the peak of the winding's rated current, 0 to 40; often 8 to 15, more for toroids
}

// Validate returns nil if all fields are in range, and otherwise an error that
// names each fault.
//
// Definition: the ranges stand beside the fields.
func (b Balancer) Validate() error {
	return errors.Join(
		pkg.Range("leg voltage", float64(b.Leg), 100, 130, domain.Volt),
		pkg.Range("rating", float64(b.Rating), leastContinuous, mostPower, domain.VoltAmpere),
		pkg.Range("standing loss", b.Loss, 0, 0.1, domain.Percent),
		pkg.Range("inrush", b.Inrush, 0, 40, domain.One),
	)
}

// A BalancerUse is what a balancing transformer makes of two legs' loads.
type BalancerUse struct {
	Neutral  unit.Current  // rms, at the tap: the phasor difference of the legs' currents
	Winding  unit.Current  // rms, in each half: half of it
	Share    float64       // of the rating; above 1 it is overloaded
	Source   unit.Current  // rms, in both lines of the source alike
	Taken    PowerTriangle // from the source, standing loss with it
	Standing unit.Power    // taken for as long as it is switched on
	Inrush   unit.Current  // crest when switched on at the worst instant; limited by the source, which may trip
}

// Balance returns what becomes of the loads,
//
//	I_N = |S_1 - S_2|/V,  I_w = I_N/2,  S_T = |S_1 - S_2|
//	I_s = |S_1 + S_2 + S_across + P_0|/(2·V)
//
// in complex powers, with V the voltage of a leg (V), S_T what the rating is
// compared with and P_0 the standing loss (W). One leg's load alone passes half
// of its amperes through each half of the winding, and the source sees it evenly.
// A tap that comes loose puts the legs in series across 240 V: protection must
// open both legs at once. Loads of 0 to 1 MW.
//
// Source: ampere-turns of the ideal autotransformer; Kirchhoff's current law.
func (b Balancer) Balance(l SplitLoads) (BalancerUse, error) {
	err := errors.Join(b.Validate(), l.L1.check("load of L1"), l.L2.check("load of L2"), l.Across.check("load across"))
	if err != nil {
		return BalancerUse{}, err
	}
	v, rating := float64(b.Leg), float64(b.Rating)
	difference := cmplx.Abs(l.L1.complex() - l.L2.complex())
	u := BalancerUse{
		Neutral: unit.Current(difference / v), Winding: unit.Current(difference / v / 2), Share: difference / rating,
		Standing: unit.Power(b.Loss * rating),
	}
	u.Taken = together(l.L1, l.L2, l.Across, PowerTriangle{Real: u.Standing})
	u.Source = unit.Current(float64(u.Taken.Apparent) / (2 * v))
	u.Inrush = unit.Current(b.Inrush * math.Sqrt2 * rating / (2 * v))
	return u, nil
}
