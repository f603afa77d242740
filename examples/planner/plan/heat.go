package plan

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/conductor"
	"ridethrough.example/motor"
)

// An ampacity is what a wire carries by a table: Low in a raceway or cable,
// High in free air where a table says so.
type ampacity struct {
	motor.Range[unit.Current]

	source string
}

// ampacityOf looks a wire up, at the temperature of usual terminals: 75 °C for
// battery cable, 60 °C for branch circuits. No table holds every wire; ok is
// false where none does.
func ampacityOf(w conductor.Wire, branch bool) (a ampacity, ok bool) {
	if w.Size.IsMetric() {
		if w.Metal != conductor.Copper {
			return a, false
		}
		method := conductor.MethodB1
		if branch {
			method = conductor.MethodB2
		}
		i, err := conductor.IECCircuit{Size: w.Size, Insulation: conductor.PVC70, Method: method, Loaded: 2}.Ampacity()
		return ampacity{motor.Exactly(i), fmt.Sprintf("IEC 60364-5-52, PVC, method %v", method)}, err == nil
	}
	rating := conductor.Rated75C
	if branch {
		rating = conductor.Rated60C
	}
	i, err := conductor.RacewayAmpacity(w.Size, w.Metal, rating, conductor.Since2011)
	if err != nil {
		// 18 and 16 AWG have a device limit where they have no ampacity.
		small, limited, err := conductor.SmallConductorLimit(w.Size, w.Metal)
		return ampacity{motor.Exactly(small), "NEC (2023) 240.4(D)"}, err == nil && limited
	}
	a = ampacity{motor.Exactly(i), fmt.Sprintf("NEC (2023) table 310.16, %v", rating)}
	if !branch && w.Metal == conductor.Copper {
		if free, err := conductor.FreeAirAmpacity(w.Size, rating); err == nil {
			a.High = max(free, i)
			a.source += ", and table 310.17 in free air"
		}
	}
	return a, true
}

// unknownAmpacity is the check of a wire that no table holds: it cannot hold.
func unknownAmpacity(id, title string, i motor.Range[unit.Current], w conductor.Wire, basis Basis) Check {
	return Check{
		ID: id, Title: title, Unit: "A", Low: float64(i.Low), High: float64(i.High), GoodLimit: float64(i.High), Basis: basis,
		Message: fmt.Sprintf("What a %v carries is in none of the tables that the library holds. Look it up before you trust it with this current.", w),
		Source:  "none",
	}
}
