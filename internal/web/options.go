package web

import (
	"context"
	"errors"
	"net/http"

	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/fault"
	"overwinter/internal/resupply"
)

// Optioner sets a plant's plan beside what could be done otherwise and saves nothing; *advice.Adviser does.
type Optioner interface {
	Options(ctx context.Context, plant string) (advice.PlanOptions, error)
}

// optionsPage is a plan beside what could be done otherwise, or could happen.
type optionsPage struct {
	Frame
	Name, Plant, Heading, Lead, JSON string
	Plan                             *planView
	Rows                             []optionRow
	Failing                          []failingView
}

type optionRow struct{ Name, More, Error, Below, BelowMore, Fallback string }

// failingView is what a window's failing leaves short, and what would bring it.
type failingView struct {
	Text  string
	Loads []loadRow
}

var optionsTemplate = load[optionsPage]("options")

func optionsPath(id string) string { return plantPath(id) + "/options" }

func (s *Site) options(c echo.Context) error {
	now, err := s.deps.Desk.InForce(c.Request().Context())
	if err != nil {
		return err
	}
	p, err := now.Plant(plantID(c))
	if err != nil {
		return err
	}
	page := optionsPage{Name: p.Name, Plant: plantPath(p.Plant), Heading: "There is no plan to compare with"}
	status := http.StatusOK
	got, err := s.deps.Optioner.Options(c.Request().Context(), p.Plant)
	var f *fault.Error
	switch {
	case errors.As(err, &f) && f.Kind == fault.Invalid:
		status, page.Lead = http.StatusUnprocessableEntity, capital(f.Message)+"."
	case err != nil:
		return err
	default:
		page.show(p, got)
		if s.deps.JSON != nil {
			page.JSON = s.deps.JSON(p.Plant) + "/plan/options"
		}
	}
	page.Frame = s.frame(c, "fleet", p.Name+": "+page.Heading)
	page.AsOf = asOfLine([]advice.Plant{p})
	return optionsTemplate.render(c, status, page)
}

func (page *optionsPage) show(p advice.Plant, got advice.PlanOptions) {
	p.AsOf, p.Planned = got.AsOf, got.Planned
	page.Plan = planOf(p)
	page.Heading, page.Lead = planHeading(p), page.Plan.Text
	page.Plan.Text = "" // it is said above
	for _, o := range got.Options {
		page.Rows = append(page.Rows, optionRow{
			Name: optionName(p, o), More: dearer(o.More), Error: "± " + money(o.MoreError), Below: percent(o.Below),
			BelowMore: points(o.BelowMore) + " ± " + points(o.BelowError), Fallback: kilolitres(o.Fallback + o.Missing),
		})
		if o.Kind == resupply.WindowFails {
			page.Failing = append(page.Failing, failingOf(p, o))
		}
	}
}

// optionName says what is done otherwise.
func optionName(p advice.Plant, o advice.PlanOption) string {
	lot := ""
	if o.Lot != nil {
		lot = plain(lotName(p, p.Planned.Lots[*o.Lot]))
	}
	switch o.Kind {
	case resupply.SkipDelivery:
		return "skip: " + lot
	case resupply.FillUp:
		return "fill the tanks: " + lot
	case resupply.LitresOrdered:
		return "fix the litres when ordering: " + lot
	case resupply.WindowFails:
		return "fails: " + delivery(p, o.Route, o.Window) + " of " + openingOf(o.Opens, p.AsOf)
	case resupply.SaveFuel:
		return "burn " + percent(*o.Share) + " less"
	}
	return string(o.Kind)
}

func failingOf(p advice.Plant, o advice.PlanOption) failingView {
	name := "If the " + delivery(p, o.Route, o.Window) + " of " + openingOf(o.Opens, p.AsOf) + " fails, "
	if o.Short == nil {
		return failingView{Text: name + "the rest of the plan holds the reserve at the accepted risk."}
	}
	v := failingView{Text: name + shortage("are", o.Short, p.AsOf) + ", at the accepted risk."}
	for _, l := range o.Short.Loads {
		v.Loads = append(v.Loads, loadRowOf(p, l))
	}
	return v
}

// dearer writes what is paid more, with its sign.
func dearer(minor int64) string {
	if minor > 0 {
		return "+" + money(minor)
	}
	return money(minor)
}

// points writes a difference of shares in points.
func points(share float64) string {
	text := percent(share)
	if share < 0 {
		return "−" + percent(-share)
	}
	return text
}
