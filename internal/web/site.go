// Package web is the pages: the advice in force, set for people to read, and the forms by which they
// report. It shows what was saved as issued, and the books, suppositions and sensitivities as they are reckoned for it; it works nothing out
// itself. Display units, words and the look of a date are chosen here and nowhere else. Every page works
// without script.
package web

import (
	"time"

	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
)

// Ledger is what the pages read of the ledger.
type Ledger interface {
	inventory.Reader
	inventory.OrderReader
}

// Deps is what the pages are served from.
type Deps struct {
	Desk   *advice.Desk
	Intake *intake.Desk
	Ledger Ledger
	Books  Books
	// Supposer is asked when a page is; nothing that it says is kept.
	Supposer Supposer
	Optioner Optioner
	Clock    calendar.Clock
	Demo     bool
	// AsOf is the day that the pages stand at; nil is each plant's own today.
	AsOf *calendar.Day
	// JSON gives the address of a plant's advice for machines; nil where there is none.
	JSON func(plant string) string
}

// Site is the pages.
type Site struct{ deps Deps }

// New makes the pages.
func New(d Deps) *Site { return &Site{deps: d} }

// Register adds the pages and their static files to a server. Errors are returned to the server, whose
// error handler should hand those of pages to Site.Error.
func (s *Site) Register(e *echo.Echo) {
	shows(e, "/", s.fleet)
	shows(e, "/plants/:id", s.plant)
	shows(e, "/plants/:id/suppose", s.suppose)
	shows(e, "/plants/:id/options", s.options)
	shows(e, "/plants/:id/orders", s.orders)
	shows(e, "/static/:name", static)
	s.registerRound(e)
	s.registerBudget(e)
	s.registerBooks(e)
}

// today is the day that advice should be of, in a zone.
func (s *Site) today(zone *time.Location) calendar.Day {
	if s.deps.AsOf != nil {
		return *s.deps.AsOf
	}
	return calendar.DayOf(s.deps.Clock(), zone)
}
