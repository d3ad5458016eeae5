package replay

import (
	"io"
	"regexp"

	"overwinter/internal/calendar"
	"overwinter/internal/resupply"
	"overwinter/internal/strict"
)

// currencyForm is that of ISO 4217.
var currencyForm = regexp.MustCompile(`^[A-Z]{3}$`)

// scenarioReader reads one scenario.
type scenarioReader struct{ *strict.Reader }

// readScenario reads a scenario as docs/replay.md describes it. An error lists each place that is wrong as file:line:path.
func readScenario(name string, in io.Reader) (*Scenario, error) {
	r := scenarioReader{strict.New(name, "scenario")}
	root, err := r.Parse(in)
	if err != nil {
		return nil, err
	}
	var s Scenario
	if root != nil {
		if o, ok := r.Object(root); ok {
			s = r.scenario(o)
		}
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	return &s, nil
}

func (r scenarioReader) scenario(o *strict.Object) Scenario {
	o.Field("note", strict.IsText, false)
	s := Scenario{
		Start: r.day(o, "start"), End: r.day(o, "end"), Currency: r.currency(o), Seed: uint64(r.whole(o, "seed", 0, 1e9)),
		OpeningShare: r.number(o, "opening_share", 0, 1), ReserveDays: r.whole(o, "reserve_days", 1, 365),
		Risk: r.number(o, "risk_target", 0.001, 0.5), Carrying: r.number(o, "carrying_per_year", 0, 1),
	}
	if s.End < s.Start && r.Count() == 0 {
		r.Problem(o.Found["end"], "%s is before the start %s", s.End, s.Start)
	}
	if w, ok := o.Child("window", true); ok {
		s.Window = WindowRules{
			Deliveries: r.whole(w, "deliveries", 1, 4), Apart: r.whole(w, "days_apart", 0, 365),
			OpensLag: r.number(w, "opens_lag_days", -180, 180), ClosesLag: r.number(w, "closes_lag_days", -180, 180),
			FailChance: r.number(w, "fail_chance", 0, 0.99),
		}
		w.Done()
	}
	if d, ok := o.Child("delivery", true); ok {
		s.Delivery = r.delivery(d)
	}
	if f, ok := o.Child("fallback", true); ok {
		s.Fallback = FallbackRules{
			Lead: r.number(f, "lead_days", 0, 365), LeadSD: r.number(f, "lead_sd_days", 0, 365),
			Price: r.number(f, "price_per_l", 0.001, 1e6), Load: r.number(f, "load_l", 1, 1e9), AtDays: r.whole(f, "at_days", 0, 365),
		}
		f.Done()
	}
	o.Done()
	return s
}

func (r scenarioReader) delivery(o *strict.Object) DeliveryRules {
	d := DeliveryRules{
		Lead: r.number(o, "lead_days", 0, 365), LeadSD: r.number(o, "lead_sd_days", 0, 365),
		StopCost: r.number(o, "stop_cost", 0, 1e9), Price: r.number(o, "price_per_l", 0.001, 1e6),
		Lot: resupply.Lot{Min: r.number(o, "min_l", 0, 1e9), Max: r.number(o, "max_l", 1, 1e9), Step: r.number(o, "step_l", 0, 1e9)},
	}
	o.Done()
	if d.Lot.Max < d.Lot.Min && o.Found["max_l"] != nil {
		r.Problem(o.Found["max_l"], "%v: expected min_l (%v) or more", d.Lot.Max, d.Lot.Min)
	}
	return d
}

// number reads a number that must lie between two others.
func (r scenarioReader) number(o *strict.Object, name string, least, most float64) float64 {
	x, ok := o.Number(name, true)
	if ok && !(x >= least && x <= most) {
		r.Problem(o.Found[name], "%v: expected %v to %v", x, least, most)
	}
	return x
}

// whole reads a whole number that must lie between two others.
func (r scenarioReader) whole(o *strict.Object, name string, least, most int) int {
	x, ok := o.Number(name, true)
	if ok && (x != float64(int(x)) || x < float64(least) || x > float64(most)) {
		r.Problem(o.Found[name], "%v: expected a whole number from %d to %d", x, least, most)
	}
	return int(x)
}

func (r scenarioReader) day(o *strict.Object, name string) calendar.Day {
	n := o.Field(name, strict.IsText, true)
	if n == nil {
		return 0
	}
	d, err := calendar.ParseDay(n.Text)
	if err != nil {
		r.Problem(n, "%s is no day: expected YYYY-MM-DD such as 2020-06-01", strict.Quote(n.Text))
	}
	return d
}

func (r scenarioReader) currency(o *strict.Object) string {
	n := o.Field("currency", strict.IsText, true)
	if n == nil {
		return ""
	}
	if !currencyForm.MatchString(n.Text) {
		r.Problem(n, "%s: expected the three capital letters of a currency, such as USD", strict.Quote(n.Text))
	}
	return n.Text
}
