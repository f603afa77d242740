package battery

import (
	"errors"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// A Generator is an engine set by its fuel at two loads. The zero value is
// invalid.
type Generator struct {
	Rated unit.Power // continuous, 100 W to 10 MW
	// NoLoad is the fuel rate at no load, above zero. Fuel tables seldom have
	// it: a line through two of their points gives it.
	NoLoad FlowRate
	// Load and AtLoad are one point of the fuel table: at most Rated, and not
	// below NoLoad.
	Load   unit.Power
	AtLoad FlowRate
}

func (g Generator) validate() error {
	const least, most = 100, 10e6
	err := errors.Join(
		pkg.Range("generator rating", float64(g.Rated), least, most, domain.Watt),
		pkg.Range("fuel at load", float64(g.AtLoad), float64(0.01*USGallonPerHour), float64(1000*USGallonPerHour), fuelflowUnit),
	)
	if err != nil {
		return err
	}
	return errors.Join(
		pkg.Range("load of the fuel figure", float64(g.Load), 0.05*float64(g.Rated), float64(g.Rated), domain.Watt),
		pkg.Range("fuel at no load", float64(g.NoLoad), float64(0.001*USGallonPerHour), float64(g.AtLoad), fuelflowUnit),
	)
}

// Fuel returns the fuel rate at a load,
//
//	F = F0 + b·P,  b = (F1 - F0)/P1
//
// where P is the load (W), F0 is g.NoLoad, and F1 the fuel at P1 (g.AtLoad at
// g.Load). The straight line is why a lightly loaded set wastes fuel.
//
// Valid for loads of 0 to g.Rated; otherwise, and for a generator outside its
// bounds, err wraps [ErrDomain].
//
// Source: Willans' line.
func (g Generator) Fuel(p unit.Power) (FlowRate, error) {
	if err := g.validate(); err != nil {
		return 0, err
	}
	if err := pkg.Range("generator load", float64(p), 0, float64(g.Rated), domain.Watt); err != nil {
		return 0, err
	}
	b := float64(g.AtLoad-g.NoLoad) / float64(g.Load)
	return g.NoLoad + FlowRate(b*float64(p)), nil
}

// A GeneratorRun is what a recharge asks of a generator.
type GeneratorRun struct {
	Load unit.Power         // charger and other loads together
	Time Range[unit.Time]   // as it was asked for
	Fuel Range[unit.Volume] // burnt in that time
}

// Run returns fuel for a time at a charger's input power and other loads,
//
//	V = t·F(Pc + Po)
//
// where t is a time range (h), such as the bulk of a [RechargeTime], Pc the
// charger's input (W, [ChargerInput]) and Po the other loads (W). For a whole
// recharge the charger's power falls in the tail, and the fuel at the high end
// is an upper bound. Generators are better stopped at the end of bulk: the
// tail runs the set for hours at a small load.
//
// Valid for times of 0 to 10 000 h in order; otherwise, and where
// [Generator.Fuel] refuses the load, err wraps [ErrDomain].
//
// Source: as for [Generator.Fuel].
func (g Generator) Run(t Range[unit.Time], charger, other unit.Power) (GeneratorRun, error) {
	const most = 10e6
	err := errors.Join(
		checkRange("run time", t, 0, 10000*float64(Hour), domain.Hour),
		pkg.Range("input of the charger", float64(charger), 0, most, domain.Watt),
		pkg.Range("other loads", float64(other), 0, most, domain.Watt),
	)
	if err != nil {
		return GeneratorRun{}, err
	}
	f, err := g.Fuel(charger + other)
	if err != nil {
		return GeneratorRun{}, err
	}
	return GeneratorRun{
		Load: charger + other, Time: t,
		Fuel: Range[unit.Volume]{
			Low:  unit.Volume(float64(t.Low) * float64(f)),
			High: unit.Volume(float64(t.High) * float64(f)),
		},
	}, nil
}
