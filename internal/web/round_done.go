package web

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
	"overwinter/internal/resupply"
)

// donePage says what of a round is written, and what the advice makes of it.
type donePage struct {
	Frame
	Name         string
	Plant, Again string // addresses: the plant's page, and the form that corrects this round
	Next         string
	Lead         string
	Moved        []string
	Part         string // why the stock may stand as it was, "" where all tanks were gauged
	Written      []doneRow
	Doubts       []string
	DayTanks     []string // how long each lasts without its pump
}

// doneRow is one value that was written.
type doneRow struct{ Name, Value, Says string }

var doneTemplate = load[donePage]("round_done")

func (s *Site) roundDone(c echo.Context) error {
	r, err := s.rounding(c)
	if err != nil {
		return err
	}
	ctx, report := c.Request().Context(), intake.Report{Key: c.Param("key"), Plant: r.plant.ID}
	round, err := s.deps.Intake.RoundOf(ctx, report)
	if fault.KindOf(err) == fault.NotFound {
		return s.nothingLeft(c, r)
	}
	if err != nil {
		return err
	}
	f, err := s.formOf(c, r, round)
	if err != nil {
		return err
	}
	day := calendar.DayOf(round.At, r.zone)
	p := donePage{
		Name: r.plant.Name, Plant: plantPath(r.plant.ID),
		Again: r.path() + "?again=" + url.QueryEscape(report.Key), Next: r.path(),
	}
	// A round that would be refused today, since a tank has changed, is shown without its comparison.
	if compared, err := s.deps.Intake.RehearseRound(ctx, round); err == nil {
		f.compare(compared, day)
		for _, n := range compared.Notices {
			if text := scalesOf(r.plant.Display).doubtText(n); !slices.Contains(p.Doubts, text) { // what holds for several tanks is said once
				p.Doubts = append(p.Doubts, text)
			}
		}
	}
	p.Written = f.written()
	now := s.inForce(c, r.plant.ID)
	f.guideDayTanks(now)
	p.Frame = s.frame(c, "round", "Written: the round of "+clockMoment(round.At, r.zone, r.day()))
	p.Moved = scalesOf(r.plant.Display).moved(c.QueryParams(), now)
	for _, g := range f.Tanks {
		if g.DayTank == nil || g.Fields[0].stored == nil {
			continue
		}
		if g.DayTank.Warning != "" {
			p.Doubts = append(p.Doubts, g.Name+": "+g.DayTank.Warning)
		}
		if g.DayTank.Lasts != "" {
			p.DayTanks = append(p.DayTanks, g.Name+": "+g.DayTank.Lasts)
		}
	}
	p.Part = partly(r, round)
	p.Lead = doneLead(c, len(p.Written))
	noStore(c)
	return doneTemplate.render(c, http.StatusOK, p)
}

// nothingLeft is the page of a round of which nothing is in force.
func (s *Site) nothingLeft(c echo.Context, r *rounding) error {
	noStore(c)
	return doneTemplate.render(c, http.StatusNotFound, donePage{
		Frame: s.frame(c, "round", "Nothing of this round is in force"), Name: r.plant.Name,
		Plant: plantPath(r.plant.ID), Next: r.path(),
		Lead: "It was withdrawn, or another took its place, or it was never written. The Round page lists what was written in the last days.",
	})
}

// partly says that a round did not gauge all tanks: the stock is counted from all of them together.
func partly(r *rounding, round intake.Round) string {
	gauged := map[string]bool{}
	for _, t := range round.Tanks {
		gauged[t.Tank] = !t.Withdraw
	}
	day := calendar.DayOf(round.At, r.zone)
	for _, t := range r.dir.TanksOf(r.plant.ID) {
		if t.Role != inventory.DayTank && t.Product == r.plant.Product && t.Available(day) && !gauged[t.ID] {
			return "Not all tanks were gauged in this round. The stock stands on the last time that they were gauged together, less what the meters and the forecast say was burned since."
		}
	}
	return ""
}

func doneLead(c echo.Context, n int) string {
	lead := capital(count(n, "value is", "values are")) + " in the ledger."
	if c.QueryParam("again") != "" {
		lead = "This round had come before, and it is written once. " + lead
	}
	if c.QueryParam("behind") != "" {
		lead += " The advice does not count it in yet: the next forecast will."
	}
	return lead
}

// written lists what the form was filled with.
func (f *roundForm) written() []doneRow {
	var rows []doneRow
	for _, g := range f.groups() {
		for _, q := range g.Fields {
			if q.stored != nil {
				rows = append(rows, doneRow{g.Name + ", " + q.Label, read(q.scale, *q.stored) + joint + q.Unit, q.Says})
			}
		}
	}
	if f.Together != "" && rows != nil {
		rows = append(rows, doneRow{Name: "All meters", Says: f.Together})
	}
	return rows
}

// moved says what the advice made of the round: what it said before stands in the page's address.
func (s scales) moved(was url.Values, now *advice.Plant) []string {
	if now == nil {
		return []string{"There is no advice for this plant yet."}
	}
	said := []string{s.stockMoved(was.Get("stock"), now), orderMoved(was, now)}
	if lot, err := strconv.ParseFloat(was.Get("lot"), 64); err == nil && now.Order != nil && kL(lot) != kL(now.Order.Lot) {
		said = append(said, "The lot is "+kL(now.Order.Lot)+" now; before, it was "+kL(lot)+".")
	}
	if day, err := calendar.ParseDay(was.Get("reserve")); err == nil && now.ReserveDate.P50 != nil && *now.ReserveDate.P50 != day {
		said = append(said, "The reserve is reached about "+shortDay(*now.ReserveDate.P50, now.AsOf)+" now; before, about "+shortDay(day, now.AsOf)+".")
	}
	status := resupply.Status(was.Get("status"))
	if slices.Contains(byUrgency, status) && status != now.Status {
		said = append(said, "The plant is now “"+string(now.Status)+"”; before, it was “"+string(status)+"”.")
	}
	return said
}

func (s scales) stockMoved(was string, now *advice.Plant) string {
	if now.Stock.Usable == nil {
		return "The usable stock is not known: the tanks have not all been gauged for too long."
	}
	stock := s.both(*now.Stock.Usable)
	before, err := strconv.ParseFloat(was, 64)
	switch {
	case err != nil:
		return "Usable stock " + stock + " at the end of " + longDay(now.AsOf, now.AsOf) + "."
	case whole(before) == whole(*now.Stock.Usable):
		return "Usable stock unchanged, " + stock + "."
	}
	return "Usable stock " + stock + " at the end of " + longDay(now.AsOf, now.AsOf) + "; before this round it was taken to be " + s.both(before) + "."
}

// both writes litres, and beside them what they are in the plant's own unit.
func (s scales) both(litres float64) string {
	text := whole(litres) + joint + "L"
	if s.volume.Name != "l" {
		text += " (" + read(s.volume, litres) + joint + s.volume.Label + ")"
	}
	return text
}

func orderMoved(was url.Values, now *advice.Plant) string {
	day, err := calendar.ParseDay(was.Get("order-by"))
	known := was.Has("status")
	switch {
	case now.Order == nil && err == nil:
		return "There was a day to order by, " + shortDay(day, now.AsOf) + ", and there is none now."
	case now.Order == nil && known:
		return "No day to order by, as before."
	case now.Order == nil:
		return "There is no day to order by."
	case err != nil && known:
		return "There is a day to order by now: " + shortDay(now.Order.OrderBy, now.AsOf) + "."
	case err != nil:
		return "Order by " + shortDay(now.Order.OrderBy, now.AsOf) + "."
	case day == now.Order.OrderBy:
		return "Order by " + shortDay(day, now.AsOf) + ", unchanged."
	}
	return "Order by moved from " + shortDay(day, now.AsOf) + " to " + shortDay(now.Order.OrderBy, now.AsOf) + "."
}

// donePath is the page that says what was written, with what the advice said before.
func donePath(r *rounding, key string, receipt intake.Receipt, before *advice.Plant) string {
	q := url.Values{}
	if before != nil && receipt.New > 0 {
		q.Set("status", string(before.Status))
		if before.Stock.Usable != nil {
			q.Set("stock", strconv.FormatFloat(*before.Stock.Usable, 'f', 0, 64))
		}
		if before.Order != nil {
			q.Set("order-by", before.Order.OrderBy.String())
			q.Set("lot", strconv.FormatFloat(before.Order.Lot, 'f', 0, 64))
		}
		if day := before.ReserveDate.P50; day != nil {
			q.Set("reserve", day.String())
		}
	}
	if !receipt.Advised {
		q.Set("behind", "1")
	}
	if receipt.New == 0 {
		q.Set("again", "1")
	}
	return r.path() + "/" + url.PathEscape(key) + "?" + q.Encode()
}
