package plan

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/battery"
)

// hydrogenLimit is the share of hydrogen in air that ventilation keeps to, a
// quarter of what starts to burn.
const hydrogenLimit = 0.01

// showRecharge adds how the bank is filled again, and the air that it needs.
func (m *maker) showRecharge() error {
	c := &m.site.Charger
	if !c.Current.Given() {
		if c.Standing.Given() {
			return m.site.at("charger.current", errMissing)
		}
		return nil
	}
	s := Section{Title: "Filling it again"}
	if err := m.showChargeTime(&s); err != nil {
		return err
	}
	if err := m.showChargeLimit(); err != nil {
		return err
	}
	if err := m.showVentilation(&s); err != nil {
		return err
	}
	m.show(s)
	return nil
}

func (m *maker) showChargeTime(s *Section) error {
	c := &m.site.Charger
	standing := c.Standing
	if !standing.Given() {
		standing = standing.or(0)
		m.assume("charger.standing: 0 A, nothing draws while the bank charges")
	}
	basis := worst(c.Current.Basis, standing.Basis, m.bank.basis, RuleOfThumb)
	loss, err := m.selfDischarge()
	if err != nil {
		return m.fault("battery", err)
	}
	allowed, err := m.bank.CheckCharger(c.Current.High, m.site.Battery.Temperature.High)
	if err != nil {
		return m.fault("charger", err)
	}
	most := allowed.Limit.High // what the battery takes, whatever the charger gives
	if most == 0 {
		s.note("At this temperature the bank must not be charged at all, so that no time is given.")
		return nil
	}
	var ends [2]battery.RechargeTime
	for i, from := range []float64{1 - m.bank.good.DepthLimit, 1 - m.bank.bad.DepthLimit} {
		r := battery.Recharge{
			Chemistry: m.site.Battery.Chemistry, Capacity: m.bank.Rating().Capacity * unit.Charge(pick(m.site.Battery.Health, 1-i)),
			From: min(from, 1), Charger: min(pick(c.Current, 1-i), most), Standing: pick(standing, i), SelfDischarge: loss[i],
		}
		var err error
		ends[i], err = r.Time()
		var never *battery.NeverChargesError
		if errors.As(err, &never) {
			m.check(Check{
				ID: "charger.charges", Title: "the charger fills the bank", Unit: "A", AtLeast: true, Basis: basis,
				Low: float64(pick(c.Current, 0)), High: float64(pick(c.Current, 1)), Limit: float64(pick(standing, 1)),
				Message: never.Error() + ".", Source: "charge balance",
			})
			// As much in as out is no charge.
			m.plan.Checks[len(m.plan.Checks)-1].State = Fails
			s.note("The bank never charges: what draws on it takes all that the charger gives.")
			return nil
		}
		if err != nil {
			return m.fault("charger", err)
		}
	}
	m.check(Check{
		ID: "charger.charges", Title: "the charger fills the bank", Unit: "A", AtLeast: true, Basis: basis,
		Low: float64(pick(c.Current, 0)), High: float64(pick(c.Current, 1)), Limit: float64(pick(standing, 1)),
		Message: "It gives more than what draws on the bank takes.", Source: "charge balance",
	})
	low, high := min(ends[0].Total.Low, ends[1].Total.Low), max(ends[0].Total.High, ends[1].Total.High)
	// Of a discharge that ends as it begins there is no rule: 0 is no charge.
	naive, err := battery.ShortcutRecharge(ends[1].Removed, c.Current.Mid(), 0)
	if err != nil {
		naive = 0
	}
	s.add(Figure{
		Key: "battery.recharge_h", Label: "Recharge from the end of the discharge", Unit: "h",
		Low: float64(low / battery.Hour), High: float64(high / battery.Hour), Basis: basis,
		Also: fmt.Sprintf("bulk %s h to %s %% charge, then the tail", brief(min(ends[0].Bulk.Low, ends[1].Bulk.Low)/battery.Hour,
			max(ends[0].Bulk.High, ends[1].Bulk.High)/battery.Hour), num(100*ends[1].BulkEnds)),
		Formula: "t = Q/((I - I_standing)·η) up to the end of bulk, then the absorption hours of the type",
		Numbers: fmt.Sprintf("I = %s A, I_standing = %s A; %s Ah removed", span(c.Current.Low, c.Current.High), span(standing.Low, standing.High),
			num(ends[1].Removed/battery.AmpereHour)),
		Source: "common practice: bulk arithmetic and absorption hours of charger makers",
		Shortcut: shortcut(float64(naive/battery.Hour), "ampere-hours over the charger's amperes",
			"The last part of the charge takes its time, whatever the charger could give, and some of the charge is lost."),
	})
	return nil
}

// selfDischarge is what the bank loses by itself, as a current; nothing for a
// type of which no figure is known.
func (m *maker) selfDischarge() (loss [2]unit.Current, err error) {
	if !m.site.Battery.Chemistry.LeadAcid() {
		return loss, nil
	}
	low, high, err := battery.TypicalSelfDischarge(m.site.Battery.Chemistry)
	if err != nil {
		return loss, err
	}
	var err1, err2 error
	loss[0], err1 = low.Current(m.bank.Rating().Capacity, m.site.Battery.Temperature.Low)
	loss[1], err2 = high.Current(m.bank.Rating().Capacity, m.site.Battery.Temperature.High)
	return loss, first(err1, err2)
}

// showChargeLimit lays the charger's current beside what the battery takes at
// its temperature.
func (m *maker) showChargeLimit() error {
	c, t := &m.site.Charger, m.site.Battery.Temperature
	cold, err1 := m.bank.CheckCharger(c.Current.High, t.Low)
	warm, err2 := m.bank.CheckCharger(c.Current.Low, t.High)
	if err := first(err1, err2); err != nil {
		return m.fault("charger", err)
	}
	message := fmt.Sprintf("%v: the bank takes %s to %s A at its coldest; its maker's sheet decides.", cold.Verdict, num(cold.Limit.Low), num(cold.Limit.High))
	if cold.Verdict == battery.ChargeNever {
		message = "A battery of this kind must not be charged at this temperature: warm it first."
	}
	m.check(Check{
		ID: "charger.limit", Title: "charger current within what the battery takes", Unit: "A",
		Low: float64(c.Current.Low), High: float64(c.Current.High), Limit: float64(cold.Limit.High), GoodLimit: float64(warm.Limit.High),
		Basis: worst(c.Current.Basis, RuleOfThumb), Message: message, Source: "common practice by type; lithium iron phosphate by temperature from a module's manual",
	})
	return nil
}

// showVentilation adds the fresh air that keeps hydrogen away.
func (m *maker) showVentilation(s *Section) error {
	v, err := m.bank.Ventilation(battery.BoostCharge, m.site.Charger.Current.High, hydrogenLimit)
	if errors.Is(err, battery.ErrNoHydrogen) {
		return nil
	}
	if err != nil {
		return m.fault("charger", err)
	}
	numbers := fmt.Sprintf("%s Ah in %d strings of %s V, boost charge", num(m.bank.Rating().Capacity/battery.AmpereHour), m.bank.Parallel, num(m.bank.Voltage()))
	air := float64(v.Airflow / battery.CubicMetrePerHour)
	s.add(Figure{
		Key: "battery.ventilation_m3h", Label: "Fresh air while it charges as set", Unit: "m³/h", Low: air, High: air, Basis: worst(m.bank.basis, Table),
		Also:    fmt.Sprintf("or two openings of %s cm² each, without a fan", num(round3(v.Opening/unit.Area(1e-4)))),
		Formula: "Q = 0.05·n·I_gas·C·10⁻³, A = 28·Q", Numbers: numbers, Source: "IEC 62485-2 (values of table 1 recalled)",
	})
	dilution := float64(v.Dilution / battery.CubicMetrePerHour)
	s.add(Figure{
		Key: "battery.dilution_m3h", Label: "Fresh air if the charger forces its whole current", Unit: "m³/h", Low: dilution, High: dilution,
		Basis:   worst(m.site.Charger.Current.Basis, Table),
		Formula: "0.000269 ft³/min of hydrogen a cell and ampere, kept to 1 % of the air",
		Numbers: fmt.Sprintf("%s A; %s", num(m.site.Charger.Current.High), numbers), Source: "IEEE Std 1635 and 484, ampere rule",
	})
	return nil
}
