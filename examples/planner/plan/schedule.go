package plan

import (
	"fmt"

	"ridethrough.example/conductor"
	"ridethrough.example/inverter"
)

// showSchedules adds the lists for the one who builds: what lies between
// battery and motor with its volts and amperes, and which cable, fuse and
// breaker.
func (m *maker) showSchedules() error {
	if err := m.lineList(); err != nil {
		return err
	}
	return m.cableList()
}

// lineList adds the single-line list, at the bad end: the end of the
// discharge, the softest source, the greatest demand.
func (m *maker) lineList() error {
	running, starting := m.all.running, m.all.starting
	list := Schedule{
		Title:   "From battery to motor, at the end of the discharge",
		Columns: []string{"point", "running V", "running A", "starting V", "starting A"},
		Source:  "the operating points above; starting is that of the hardest start with all other loads running",
	}
	source := m.source(m.bank.end, false)
	volts := func(v float64, o outcome) string {
		if o.collapses() { // and there is no output
			return ""
		}
		return num(v)
	}
	post, in := []string{"", ""}, []string{"", ""} // nothing starts
	if m.all.hardest != nil {
		post, in = posts(source, starting), input(starting)
	}
	list.Rows = append(list.Rows,
		append([]string{"battery posts, dc"}, append(posts(source, running), post...)...),
		append([]string{"inverter input, dc"}, append(input(running), in...)...),
	)
	ac := []string{"inverter output, ac", volts(float64(m.supply), running), num(round3(float64(m.all.demand.apparent.High) / float64(m.supply))), "", ""}
	if m.all.hardest != nil {
		ac[3], ac[4] = volts(float64(m.supply), starting), num(round3(float64(m.all.beside.apparent.High)/float64(m.supply)))
	}
	list.Rows = append(list.Rows, ac)
	for i := range m.loads {
		l := &m.loads[i]
		row := []string{l.Name + ", ac", "none", num(round3(l.run.Current.High)), "", ""}
		if _, drop, err := m.drops(l); err == nil {
			row[1] = volts(round3(m.supply-drop.High), running)
		}
		if !l.noStart && m.suited(l) {
			s, _, left, err := l.corners(m.supply)
			if err != nil {
				return m.fault(l.table, err)
			}
			row[3], row[4] = volts(round3(left.Low*float64(l.plate[0].Voltage)), starting), num(round3(float64(s.High)/float64(m.supply)))
		}
		list.Rows = append(list.Rows, row)
	}
	m.plan.Schedules = append(m.plan.Schedules, list)
	return nil
}

// posts returns volts and amperes at the battery's posts, in words where the
// source collapses.
func posts(s inverter.Source, o outcome) []string {
	if o.bad.Voltage.Low == 0 {
		return []string{"collapses", ""}
	}
	i := o.bad.Current.High
	return []string{num(float64(s.OpenCircuit) - float64(i)*float64(s.Battery)), num(round3(i))}
}

// input returns volts and amperes at the inverter's dc terminals.
func input(o outcome) []string {
	if o.bad.Voltage.Low == 0 {
		return []string{"collapses", ""}
	}
	return []string{num(o.bad.Voltage.Low), num(round3(o.bad.Current.High))}
}

// cableList adds the table of cables with what protects them.
func (m *maker) cableList() error {
	list := Schedule{
		Title:   "Cables, fuses and breakers",
		Columns: []string{"from", "to", "wire", "one way", "carries", "protected by"},
		Source:  "NEC (2023) 110.14(C), 210.20, 240.4, 240.6, 430.22, 430.32, 430.52 and tables 310.16, 430.248 and 430.250; IEC 60364-5-52 for metric sizes. Local code decides.",
	}
	if m.cable.given {
		row, err := m.dcRow()
		if err != nil {
			return err
		}
		list.Rows = append(list.Rows, row)
	}
	for i := range m.loads {
		list.Rows = append(list.Rows, m.acRows(&m.loads[i])...)
	}
	if len(list.Rows) == 0 {
		return nil
	}
	m.plan.Schedules = append(m.plan.Schedules, list)
	return nil
}

// carries writes what a wire carries by the tables.
func carries(w conductor.Wire, branch bool) string {
	a, ok := ampacityOf(w, branch)
	if !ok {
		return "in no table held"
	}
	return num(a.Low) + " A"
}

func lengthText(s *Segment) string {
	return fmt.Sprintf("%s m", brief(s.Length.Low, s.Length.High))
}

// dcRow is the battery's cable with its fuse: between 125 % of what runs and
// what the cable carries, and slow enough for the start.
func (m *maker) dcRow() ([]string, error) {
	c := &m.cable
	row := []string{"battery", "inverter", c.wire.String(), lengthText(&m.site.DCCable.Segment), carries(c.wire, false), "none possible"}
	choice, window, err := m.dcFuse()
	if err != nil {
		return nil, err
	}
	if window {
		row[5] = fmt.Sprintf("fuse %s..%s A dc", num(choice.Smallest), num(choice.Largest))
	}
	return row, nil
}

// acRows are the wires to one load. A motor of a listed size is protected the
// code's way for motors; anything else by its breaker.
func (m *maker) acRows(l *load) [][]string {
	var rows [][]string
	from, protected := "panel", "breaker for its wire"
	if l.Breaker.Given() {
		protected = "breaker " + brief(l.Breaker.Low, l.Breaker.High) + " A"
	}
	if text, ok := motorProtection(l); ok {
		if l.Breaker.Given() {
			text = protected + "; by the code " + text
		}
		protected = text
	}
	for i := range l.Run {
		w, err := l.Run[i].wire(conductor.Solid)
		if err != nil {
			continue // said when the site was read
		}
		to := l.Name
		if i < len(l.Run)-1 {
			to = fmt.Sprintf("joint %d", i+1)
		}
		rows = append(rows, []string{from, to, w.String(), lengthText(&l.Run[i]), carries(w, true), protected})
		from, protected = to, "the same"
	}
	return rows
}
