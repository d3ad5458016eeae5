package web

import (
	"html/template"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/chart"
	"overwinter/internal/inventory"
	"overwinter/internal/resupply"
)

// plantPage is one plant: its answer, and all that the answer rests on.
type plantPage struct {
	Frame
	Name, Group, Status  string
	Act                  bool
	Heading, Lead, Stale string
	Marks, Chart         template.HTML
	Figures              []figureRow
	Windows              []windowRow
	Facts                []fact // of the order
	Shortage             *shortageView
	Why                  *whyView
	WhyLot               *lotView
	Changes              changesView
	Stock                stockView
	Tanks                tanksView
	Burn                 burnView
	Suppose              supposeForm
	Scores               scoresView
	OnTheWay, Proposed   []arrivalRow
	InTransit            string // what is on its way in no tank, "" for nothing
	Clearances           []clearanceRow
	Overfull             []overfullView
	SetAside             []setAsideRow
	Notices              []noticeRow
	Assumptions          []string
	Plan                 *planView
	RoundPath, BooksPath string
	OptionsPath          string
	OrdersPath           string
	JSON                 string
}

// fact is a name and what there is to say about it.
type fact struct{ Name, Text string }

var plantTemplate = load[plantPage]("plant")

func (s *Site) plant(c echo.Context) error {
	now, err := s.deps.Desk.InForce(c.Request().Context())
	if err != nil {
		return err
	}
	p, err := now.Plant(plantID(c))
	if err != nil {
		return err
	}
	rows, err := s.deps.Ledger.Directory(c.Request().Context())
	if err != nil {
		return err
	}
	page := s.plantOf(p, recordOf(rows, p.Plant))
	if c.QueryParam(askChanges) != "" {
		if page.Changes, err = s.changes(c.Request().Context(), p); err != nil {
			return err
		}
	}
	page.Frame = s.frame(c, "fleet", p.Name+": "+page.Heading)
	page.AsOf = asOfLine([]advice.Plant{p})
	return plantTemplate.render(c, http.StatusOK, page)
}

// recordOf finds a plant's own row; without one a plant has no rules of its own, and reads in stored units.
func recordOf(rows inventory.Rows, id string) *inventory.Plant {
	for _, p := range rows.Plants {
		if p.ID == id {
			return p
		}
	}
	return &inventory.Plant{}
}

func (s *Site) plantOf(p advice.Plant, record *inventory.Plant) plantPage {
	page := plantPage{
		Name: p.Name, Group: capital(plain(p.Group)), Status: string(p.Status), Act: needsAct(p.Status),
		Lead: plantLead(p), Marks: chart.Marks,
		Figures: figureRows(p), Windows: windowRows(p),
		Facts: orderFacts(p), Shortage: shortageOf(p), Plan: planOf(p), Why: whyOf(p, record.Risk()), WhyLot: whyLotOf(p), Changes: changesView{Path: changesPath(p.Plant)},
		Stock: stockOf(p), Tanks: tanksOf(p, record.Display), Burn: burnOf(p), Scores: scoresOf(p), Suppose: supposeFormOf(p, nil),
		OnTheWay: arrivalRows(p.OpenOrders, p.AsOf), Proposed: arrivalRows(p.Proposed, p.AsOf), InTransit: inTransit(p),
		Clearances: clearanceRows(p), Overfull: overfullViews(p), OrdersPath: ordersPath(p.Plant), SetAside: setAsideRows(p), Notices: noticeRows(p), Assumptions: p.Assumptions,
		RoundPath: roundPath(p.Plant), BooksPath: booksPath(p.Plant), OptionsPath: optionsPath(p.Plant),
	}
	page.Heading = plantHeading(p)
	if behind := s.staleDays(p); behind > 0 {
		page.Stale = "This answer is " + days(behind) + " old: today’s forecast has not been made yet."
	}
	if s.deps.JSON != nil {
		page.JSON = s.deps.JSON(p.Plant)
	}
	drawn := stockChart(p, "stock", "Usable stock of "+p.Name+" to come", plantAxis(p))
	drawn.Full, drawn.Desc = p.Stock.Capacity, chartText(p)
	page.Chart = chart.Sheet(drawn)
	return page
}

// chartText tells in words what the large chart shows.
func chartText(p advice.Plant) string {
	if p.Projection == nil {
		return "The stock is unknown, so no curve is drawn; the windows in which fuel can come are hatched."
	}
	text := "The usable stock begins at " + kL(float64(first(p.Projection.P50))) + ", against a reserve of " + kL(p.Reserve.Litres) + ". The reserve is reached: " + reachedSpan(p) + "."
	if p.Order != nil {
		text += " Order by " + longDay(p.Order.OrderBy, p.AsOf) + "."
	}
	for _, o := range p.OpenOrders {
		text += " " + kL(o.Litres) + " are expected about " + longDay(o.Likely, p.AsOf) + "."
	}
	return text + " The figures are in the table below."
}

func first(values []int64) int64 {
	if len(values) == 0 {
		return 0
	}
	return values[0]
}

// plantHeading is the plant's answer.
func plantHeading(p advice.Plant) string {
	switch o := p.Order; {
	case p.Status == resupply.Unknown:
		return "The stock is unknown: " + silence(p)
	case p.Short != nil:
		return "No window keeps the reserve: " + kL(p.Short.Litres) + " short from " + longDay(p.Short.From, p.AsOf)
	case o == nil:
		return "In hand beyond " + horizonText(p)
	case o.Lot <= 0 && o.Least > 0:
		return "Order by " + longDay(o.OrderBy, p.AsOf) + ", but no lot of the " + delivery(p, o.Route, o.Window) + " fits"
	case o.Lot <= 0:
		return "Nothing to order before " + longDay(o.OrderBy, p.AsOf)
	default:
		text := "order " + lotSpan(o) + " by " + longDay(o.OrderBy, p.AsOf) + " for the " + delivery(p, o.Route, o.Window)
		if p.Status == resupply.InHand {
			return "In hand: " + text
		}
		return capital(text)
	}
}

// plantLead says why, in a sentence or two.
func plantLead(p advice.Plant) string {
	var said []string
	if p.Status == resupply.Unknown {
		text := "Nothing can be said about dates and lots. Enter a round with a gauging of every tank and the meters; the answer is worked out anew at once."
		if w := nextDeadline(p); w != nil {
			text += " The supplier takes orders for the " + delivery(p, w.Route, w.Window) + " until " + longDay(*w.Deadline, p.AsOf) + ": know the stock before that."
		}
		return text
	}
	stock := "The stock"
	if len(p.OpenOrders) > 0 {
		stock = "With what is on its way the stock"
	}
	switch r := p.ReserveDate; {
	case r.P10 == nil:
		said = append(said, stock+" stays above its reserve as far as anybody looked.")
	case r.P90 == nil:
		said = append(said, stock+" reaches its reserve after "+longDay(*r.P10, p.AsOf)+", in nine of ten simulated paths.")
	default:
		said = append(said, stock+" reaches its reserve "+between(*r.P10, *r.P90, p.AsOf)+", in eight of ten simulated paths.")
	}
	if p.Short != nil {
		return strings.Join(append(said, shortLead(p)...), " ")
	}
	if p.Order != nil {
		said = append(said, guardSentence(p))
		if a := p.Order.After; a != nil {
			said = append(said, clippedSentence(p, a))
		}
	}
	return strings.Join(said, " ")
}

// clippedSentence says what a lot that cannot last leaves missing, and on how many paths.
func clippedSentence(p advice.Plant, after *advice.Shortage) string {
	text := "Even so " + shortage("are", after, p.AsOf) + " at the accepted risk"
	if p.Order.Risk.Paths > 0 {
		text += ": on " + percent(p.Order.Risk.BelowReserve) + " of paths the lot does not last"
	}
	text += "."
	switch {
	case p.Planned != nil:
		text += " The plan below reckons with further deliveries."
	case p.Order.Limit == resupply.RoomLimit:
		text += " A further delivery in the same window, when burn has made room, is not reckoned here: ask for one."
	}
	return text
}

// guardSentence says what would go wrong after the day to order by.
func guardSentence(p advice.Plant) string {
	name := delivery(p, p.Order.Route, p.Order.Window)
	switch p.Order.Guard {
	case resupply.ReserveGuard:
		return "Ordered later, the fuel could come after that."
	case resupply.WindowGuard:
		return "Ordered later, it could miss the " + name + " before the window closes."
	case resupply.DeadlineGuard:
		return "After " + longDay(p.Order.OrderBy, p.AsOf) + " the supplier takes no orders for the " + name + " any more."
	case resupply.SoonestGuard:
		return "Ordered later, the fuel would come after that of an order placed today."
	}
	return ""
}

func shortLead(p advice.Plant) []string {
	var said []string
	if d := p.DryDate; d.P10 != nil && d.P90 != nil {
		said = append(said, "If nothing comes, the tanks run dry "+between(*d.P10, *d.P90, p.AsOf)+".")
	}
	if u := p.Short.Until; u != nil {
		said = append(said, "No window brings fuel in time: even ordered today it may not be there before "+longDay(*u, p.AsOf)+".")
	} else {
		said = append(said, "No window brings fuel in time.")
	}
	if l := quickest(p.Short.Loads); l != nil {
		text := capital(loads(*l)) + " would close the gap"
		if l.OrderBy != nil {
			text += ", if the first is ordered by " + longDay(*l.OrderBy, p.AsOf)
		} else {
			text += ", though the first comes too late even if ordered today"
		}
		said = append(said, text+".")
	}
	if p.Order != nil && p.Order.Lot > 0 {
		said = append(said, "Order "+lotSpan(p.Order)+" by "+longDay(p.Order.OrderBy, p.AsOf)+" for the "+delivery(p, p.Order.Route, p.Order.Window)+": later, the gap grows. That lot counts on the gap being closed first.")
	}
	return said
}
