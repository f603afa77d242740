package report

import (
	"bytes"
	"encoding/json"

	"ridethrough.example/examples/planner/plan"
)

// JSON returns the plan as indented JSON with a newline at its end.
func JSON(p *plan.Plan) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(p)
	return b.Bytes(), err
}
