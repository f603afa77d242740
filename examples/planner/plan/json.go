package plan

import "encoding/json"

// Version is the version of the JSON form. It grows when a key changes its
// meaning or goes away.
const Version = 1

// round keeps six significant digits, so that the last bits of a processor
// never show in a plan.
func round(x float64) float64 { return rounded(x, 6) }

// MarshalJSON writes the plan: inputs as typed, results by key with the unit
// at the key's end, checks, assumptions and cautions. Keys are sorted, so the
// same site gives the same bytes. The schema is examples/planner/schema.json.
func (p *Plan) MarshalJSON() ([]byte, error) {
	type check struct {
		ID      string  `json:"id"`
		Title   string  `json:"title"`
		State   State   `json:"state"`
		OK      bool    `json:"ok"`
		Advice  bool    `json:"advice"`
		Unit    string  `json:"unit"`
		Low     float64 `json:"value_low"`
		High    float64 `json:"value_high"`
		Limit   float64 `json:"limit"`
		Best    float64 `json:"limit_at_best"`
		Kind    string  `json:"limit_kind"`
		Margin  float64 `json:"margin"`
		Basis   Basis   `json:"basis"`
		Message string  `json:"message"`
		Source  string  `json:"source"`
	}
	out := struct {
		Version     int               `json:"version"`
		Passes      bool              `json:"passes"`
		Verdict     []string          `json:"verdict"`
		Checks      []check           `json:"checks"`
		Loads       []string          `json:"load_keys"`
		Results     map[string]Figure `json:"results"`
		Schedules   []Schedule        `json:"schedules"`
		Notes       []string          `json:"notes"`
		Assumptions []string          `json:"assumptions"`
		Cautions    []Caution         `json:"cautions"`
		Inputs      *Site             `json:"inputs"`
	}{
		Version: Version, Passes: p.Passes(), Verdict: p.Verdict,
		Loads: p.Keys, Schedules: append([]Schedule{}, p.Schedules...), Checks: []check{}, Results: map[string]Figure{}, Notes: []string{},
		Assumptions: append([]string{}, p.Assumptions...), Cautions: p.Cautions, Inputs: &p.Site,
	}
	for _, c := range p.Checks {
		kind := "at most"
		if c.AtLeast {
			kind = "at least"
		}
		_, best := c.Limits()
		out.Checks = append(out.Checks, check{
			c.ID, c.Title, c.State, c.State == Holds, c.Advice, c.Unit, round(c.Low), round(c.High),
			round(c.Limit), round(best), kind, round(c.Margin()), c.Basis, c.Message, c.Source,
		})
	}
	for _, s := range p.Sections {
		for _, f := range s.Figures {
			out.Results[f.Key] = f
		}
		out.Notes = append(out.Notes, s.Notes...)
	}
	return json.Marshal(out)
}
