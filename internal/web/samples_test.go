package web

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"slices"
	"testing"
	"time"

	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

// asOf is the day of the samples' advice.
var asOf = calendar.Date(2031, time.March, 3)

func after(days int) calendar.Day { return asOf + calendar.Day(days) }

func pointer[T any](v T) *T { return &v }

// orin is a plant with all that a page can show, which must order now.
func orin() advice.Plant {
	at := time.Date(2031, 3, 3, 16, 10, 0, 0, time.UTC)
	return advice.Plant{
		Plant: "cape-orrin", Name: "Cape Orrin", Group: "kestrel-coast", AsOf: asOf, Zone: "America/Anchorage",
		Status: resupply.OrderNow, Quality: advice.Weak,
		Stock: advice.Stock{
			Known: true, Usable: pointer(166_000.0), Sigma: pointer(900.0), Gauged: &at, Newest: &at, AtGauged: 167_200,
			Received: 300, Drawn: 100, Metered: 900, Forecast: 500, Capacity: 289_000,
			Tanks: []advice.Tank{
				{Tank: "farm-1", Role: inventory.Storage, InService: true, Capacity: 150_000, SafeFill: 142_500, Gauged: &at, Depth: pointer(2540.0),
					Water: pointer(120.0), Usable: pointer(100_000.0), Sigma: pointer(400.0), Below: pointer(3785.411784), Room: pointer(40_000.0),
					Temperature: pointer(-10.0), Assumed: true},
				{Tank: "farm-2", Role: inventory.Storage},
			},
		},
		Burn:    &advice.Burn{Next30PerDay: 916, YearTotal: 319_470, UsualLow: 753, UsualHigh: 1171},
		Reserve: advice.Reserve{Days: 30, Litres: 27_500}, DaysToEmpty: pointer(196), DaysToReserve: pointer(166),
		ReserveDate:   resupply.Dates{P10: pointer(after(151)), P50: pointer(after(166)), P90: pointer(after(182))},
		DryDate:       resupply.Dates{P10: pointer(after(181))},
		MustLastUntil: pointer(after(120)),
		Order: &advice.Order{
			Route: "kestrel-barge", Window: "early-summer", Opens: after(99), OrderBy: after(37), Guard: resupply.ReserveGuard,
			ReserveGuard: pointer(after(37)), WindowGuard: pointer(after(60)), Lot: 120_000, Least: 118_000, Most: 158_000,
			Limit: resupply.RoomLimit, Risk: resupply.Replayed{Paths: 1000, TooLate: 0.048, BelowReserve: 0.05},
		},
		OpenOrders: []advice.Expected{{Order: "PO-7", State: "in-transit", Litres: 70_000, Early: after(90), Likely: after(100), Late: after(120)}},
		Windows: []advice.Window{
			{Route: "kestrel-barge", Mode: "barge", Window: "early-summer", Opens: advice.Span{P10: after(90), P50: after(99), P90: after(108)},
				Closes: advice.Span{P10: after(130), P50: after(140), P90: after(150)}, LossChance: 0.02, Deadline: pointer(after(50))},
			{Route: "air", Mode: "air", AllYear: true, Opens: advice.Span{P10: asOf, P50: asOf, P90: asOf}, Closes: advice.Span{P10: after(588), P50: after(588), P90: after(588)}},
		},
		Projection:  projected(166_000, 84),
		BurnByMonth: burned(),
		Explanation: &resupply.Explanation{
			Guard: resupply.ReserveGuard, Path: 791,
			Lines: []resupply.Line{
				{Day: asOf, Events: []resupply.Event{{Kind: resupply.StockNow}}, Stock: 165_000, Reserve: 28_000},
				{Day: after(28), Events: []resupply.Event{{Kind: resupply.MonthEnds}}, Burn: 26_000, Draws: 1_000, Stock: 138_000, Reserve: 28_500},
				{Day: after(100), Events: []resupply.Event{{Kind: resupply.OrderArrives, Order: "PO-7"}, {Kind: resupply.LastOrderDay}}, Burn: 61_000, Draws: 2_000, Received: 70_000, Stock: 145_000, Reserve: 27_000},
			},
			Steps: []resupply.Step{
				{Kind: resupply.ReserveFalls, Day: pointer(after(166))}, {Kind: resupply.LessSlip, Day: pointer(after(165)), Days: pointer(1)},
				{Kind: resupply.LessLead, Day: pointer(after(129)), Days: pointer(36)},
			},
		},
		Faults:      []advice.Fault{{Start: at.AddDate(0, -2, 0), End: at.AddDate(0, -2, 3), Litres: 9100, Expected: 2700, Reason: "far above what the season lets expect"}},
		Assumptions: []string{"risk target 5 %", "1000 simulated futures"},
		Notices: notice.List{
			notice.New(notice.Info, "a", "cape-orrin", "worth knowing"),
			notice.New(notice.Serious, "b", "tank farm-1", "was gauged at 123456 mm on 2031-02-01"),
		},
	}
}

// projected is a stock that falls in a season's rhythm.
func projected(litres float64, weeks int) *advice.Projection {
	pr := &advice.Projection{From: asOf, Step: 7}
	for i := range weeks {
		left := litres - 7*float64(i)*(900+150*math.Cos(float64(i)/8.3))
		spread := 60 * float64(i)
		for values, v := range map[*[]int64]float64{&pr.P10: left - spread, &pr.P50: left, &pr.P90: left + spread, &pr.Reserve: 27_000 + 4000*math.Cos(float64(i)/8.3)} {
			*values = append(*values, int64(math.Max(0, v)))
		}
	}
	return pr
}

func burned() []advice.MonthBurn {
	var all []advice.MonthBurn
	month := calendar.Month{Year: 2030, Month: time.March}
	for i := range 25 {
		b := advice.MonthBurn{Month: month, Expected: 900 + 200*math.Cos(float64(i)*math.Pi/6)}
		if i < 12 {
			b.Measured, b.DaysCovered = pointer(b.Expected*1.03), 30
		}
		all, month = append(all, b), month.Next()
	}
	return all
}

func northgate() advice.Plant {
	p := orin()
	p.Plant, p.Name, p.Status = "northgate", "Northgate", resupply.Short
	p.Short = &advice.Shortage{Litres: 34_000, From: after(69), Until: pointer(after(110)), Loads: []advice.FallbackLoad{
		{Route: "air", Mode: "air", Loads: 2, Load: 17_000, LeadDays: 6, InTime: true, OrderBy: pointer(after(63)), CostMinor: 4_500_000, Currency: "USD"},
	}}
	p.Explanation.Guard = ""
	return p
}

func tern() advice.Plant {
	p := orin()
	p.Plant, p.Name, p.Status, p.Quality, p.Group = "tern", "Tern Landing", resupply.OrderSoon, advice.Sound, "teal-lakes"
	p.Order.OrderBy, p.Order.Guard, p.Order.Deadline, p.Order.Least = after(60), resupply.DeadlineGuard, pointer(after(60)), 200_000
	p.Order.After = &advice.Shortage{Litres: 42_000, From: after(400)}
	return p
}

func reef() advice.Plant {
	p := orin()
	p.Plant, p.Name, p.Status = "reef", "Outer Reef", resupply.InHand
	p.Order, p.ReserveDate, p.DaysToReserve, p.Explanation.Guard = nil, resupply.Dates{}, nil, ""
	return p
}

// marten is a plant of which nothing is known: every optional thing is absent.
func marten() advice.Plant {
	return advice.Plant{Plant: "marten spit/2", Name: "Marten <Spit>", AsOf: asOf, Zone: "UTC", Status: resupply.Unknown, Quality: advice.NoAnswer}
}

func everyStatus() []advice.Plant {
	return []advice.Plant{northgate(), orin(), marten(), tern(), reef()}
}

// kept is a store that holds advice and a directory.
type kept struct {
	rows   []inventory.Current
	plants []*inventory.Plant
}

func (k kept) CurrentAdvice(context.Context, uint64, int64) ([]inventory.Current, error) {
	return k.rows, nil
}
func (k kept) AdviceRevision(context.Context, uint64) (int64, error)  { return int64(len(k.rows)), nil }
func (k kept) CountsIn(context.Context, uint64, string) (bool, error) { return true, nil }
func (k kept) Version(context.Context) (int64, error)                 { return 1, nil }
func (k kept) Changes(context.Context) (map[string]int64, error)      { return nil, nil }
func (k kept) Directory(context.Context) (inventory.Rows, error) {
	return inventory.Rows{Plants: k.plants}, nil
}
func (k kept) PlantRows(context.Context, string, time.Time) (inventory.Rows, error) {
	return inventory.Rows{}, nil
}
func (k kept) RecentRows(context.Context, string, time.Time, time.Time) (inventory.Rows, error) {
	return inventory.Rows{}, nil
}
func (k kept) OrdersWritten(context.Context, string) ([]inventory.OrderWritten, error) {
	return nil, nil
}

// keep puts plants' advice in force, with a row of the ledger for each.
func keep(t testing.TB, plants ...advice.Plant) kept {
	t.Helper()
	var k kept
	for i, p := range plants {
		body, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		k.rows = append(k.rows, inventory.Current{Issued: inventory.Issued{Plant: p.Plant, IssuedAt: time.Unix(1, 0), Body: body}, Revision: int64(i + 1)})
		k.plants = append(k.plants, &inventory.Plant{ID: p.Plant, Name: p.Name, Zone: p.Zone})
	}
	return k
}

// server serves the pages of a store on a day.
func server(k kept, today calendar.Day) *echo.Echo {
	site := New(Deps{
		Desk: advice.NewDesk(k, 1), Ledger: k, Clock: calendar.At(time.Date(2031, 3, 4, 8, 0, 0, 0, time.UTC)), AsOf: &today,
		JSON: func(plant string) string { return "/json/" + plant },
	})
	e := echo.New()
	site.Register(e)
	e.HTTPErrorHandler = site.Error
	return e
}

// get asks for a page.
func get(e http.Handler, path string) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	e.ServeHTTP(w, httptest.NewRequest(http.MethodGet, path, nil))
	return w
}

// large is a fleet of so many plants, no two alike.
func large(n int) []advice.Plant {
	base := everyStatus()
	all := make([]advice.Plant, n)
	for i := range all {
		p := base[i%len(base)]
		p.Plant, p.Name = fmt.Sprintf("%s-%d", p.Plant, i), fmt.Sprintf("%s %d", p.Name, i)
		if p.Projection != nil {
			p.Projection = projected(120_000+float64(i*7919%400_000), 84)
			p.Windows, p.OpenOrders = shifted(p.Windows, i%41), slices.Clone(p.OpenOrders)
			p.OpenOrders[0].Likely += calendar.Day(i % 53)
			p.OpenOrders[0].Litres += float64(1000 * i)
			p.ReserveDate.P10 = pointer(after(i % 150))
		}
		all[i] = p
	}
	return all
}

// shifted gives the windows so many days later, and those of a second and a third year.
func shifted(windows []advice.Window, days int) []advice.Window {
	var all []advice.Window
	for year := range 3 {
		for _, w := range windows {
			for _, d := range []*calendar.Day{&w.Opens.P10, &w.Opens.P50, &w.Opens.P90, &w.Closes.P10, &w.Closes.P50, &w.Closes.P90} {
				*d += calendar.Day(days + 365*year)
			}
			all = append(all, w)
		}
	}
	return all
}
