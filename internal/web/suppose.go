package web

import (
	"context"
	"errors"
	"net/http"

	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/fault"
	"overwinter/internal/notice"
)

// Supposer works a plant out under a supposition, or with one thing changed at a time, and saves nothing;
// *advice.Adviser does.
type Supposer interface {
	Suppose(ctx context.Context, plant string, s advice.Supposition) (advice.Supposed, error)
	Sensitivities(ctx context.Context, plant string) (advice.Sensitive, error)
}

// supposePage is what would follow at a plant from a supposition.
type supposePage struct {
	Frame
	Name, Heading, Lead string
	Plant, JSON         string
	Form                supposeForm
	Uses                []besideRow
	Rows                []besideRow
	Notices             []noticeRow
	Assumptions         []string
}

// besideRow is one thing in both cases.
type besideRow struct {
	Name, Without, With   string
	WithoutSpan, WithSpan string // from the 10 to the 90 % point
	Difference, Percent   string
}

var supposeTemplate = load[supposePage]("suppose")

func supposePath(id string) string { return plantPath(id) + "/suppose" }

func (s *Site) suppose(c echo.Context) error {
	now, err := s.deps.Desk.InForce(c.Request().Context())
	if err != nil {
		return err
	}
	p, err := now.Plant(plantID(c))
	if err != nil {
		return err
	}
	page := supposePage{Name: p.Name, Plant: plantPath(p.Plant), Heading: "What if?", Form: supposeFormOf(p, c.QueryParams())}
	status := http.StatusOK
	if page.Form.sent {
		if status, err = s.answerSupposition(c.Request().Context(), p, &page); err != nil {
			return err
		}
	}
	page.Frame = s.frame(c, "fleet", p.Name+": "+page.Heading)
	page.AsOf = asOfLine([]advice.Plant{p})
	return supposeTemplate.render(c, status, page)
}

// answerSupposition asks for what follows and shows it, or says in the form what is wrong.
func (s *Site) answerSupposition(ctx context.Context, p advice.Plant, page *supposePage) (status int, err error) {
	supposition := page.Form.read()
	if page.Form.hasWrong() {
		return page.refuse()
	}
	got, err := s.deps.Supposer.Suppose(ctx, p.Plant, supposition)
	var f *fault.Error
	if errors.As(err, &f) && f.Kind == fault.Invalid {
		page.Form.wrong(f)
		return page.refuse()
	}
	if err != nil {
		return 0, err
	}
	page.show(p, got)
	if s.deps.JSON != nil {
		page.JSON = s.deps.JSON(p.Plant) + "/supposed?" + addressOf(got.Supposition)
	}
	return http.StatusOK, nil
}

// refuse leads to what the form says.
func (page *supposePage) refuse() (status int, err error) {
	page.Heading = "This cannot be supposed"
	page.Lead = "The form says what does not fit."
	return http.StatusUnprocessableEntity, nil
}

// show sets what follows.
func (page *supposePage) show(p advice.Plant, got advice.Supposed) {
	without, with := caseOf(p, got, got.Without), caseOf(p, got, got.With)
	year := got.Uses[len(got.Uses)-1]
	page.Heading = kL(year.With.P50) + " in the next " + days(year.Days) + " instead of " + kL(year.Without.P50)
	page.Lead = "Supposed: " + list(supposedWords(got, p.AsOf)) + "."
	for _, u := range got.Uses {
		page.Uses = append(page.Uses, useRow(u))
	}
	page.Rows = []besideRow{
		{Name: "status", Without: string(without.Status), With: string(with.Status)},
		{Name: "reserve reached", Without: reachedSpan(without), With: reachedSpan(with)},
		{Name: "runs dry", Without: drySpan(without), With: drySpan(with)},
		{Name: "order by", Without: orderDay(without), With: orderDay(with)},
		{Name: "lot", Without: lotOrNone(without), With: lotOrNone(with)},
		{Name: "from", Without: windowOrNone(without), With: windowOrNone(with)},
		{Name: "short", Without: shortOrNone(without), With: shortOrNone(with)},
	}
	page.Assumptions = got.Assumptions
	page.note(p, got.Notices, "")
	page.note(p, got.Without.Notices, ", without")
	page.note(p, got.With.Notices, ", with")
}

// note adds notices and of which case they are.
func (page *supposePage) note(p advice.Plant, notes notice.List, of string) {
	p.Notices = notes
	for _, row := range noticeRows(p) {
		row.Severity += of
		page.Notices = append(page.Notices, row)
	}
}

// caseOf is one of the two cases as advice, to be written as advice is.
func caseOf(p advice.Plant, got advice.Supposed, o advice.SupposedOutcome) advice.Plant {
	p.AsOf, p.Status, p.ReserveDate, p.DryDate, p.Order, p.Short = got.AsOf, o.Status, o.ReserveDate, o.DryDate, o.Order, o.Short
	return p
}

func useRow(u advice.SupposedUse) besideRow {
	r := besideRow{
		Name: "next " + days(u.Days), Without: kilolitres(u.Without.P50), With: kilolitres(u.With.P50),
		WithoutSpan: kilolitresSpan(u.Without), WithSpan: kilolitresSpan(u.With), Difference: changed(kilolitres(u.Difference)),
	}
	if u.Percent != nil {
		r.Percent = changed(read(plainScale, *u.Percent)) + joint + "%"
	}
	return r
}

func kilolitresSpan(u advice.UseRange) string {
	return kilolitres(u.P10) + " to " + kilolitres(u.P90)
}
