package web

import (
	"crypto/rand"
	"net/http"
	"net/url"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
)

func (s *Site) registerRound(e *echo.Echo) {
	shows(e, "/round", s.choose(toRound))
	shows(e, "/plants/:id/round", s.askRound)
	e.POST("/plants/:id/round", s.takeRound)
	shows(e, "/plants/:id/round/:key", s.roundDone)
}

// toRound leads to the form of a plant's rounds.
var toRound = destination{
	place: "round", title: "Which plant’s round?", path: roundPath,
	lead:  "Each plant’s form has its own address: keep yours as a bookmark, and this page is never in the way.",
	empty: "Load a data folder with your plants, tanks and meters first; then their rounds are taken here.",
}

// rounding is what every page about a plant's rounds begins with.
type rounding struct {
	dir   *inventory.Directory
	plant *inventory.Plant
	zone  *time.Location
	clock time.Time
	now   time.Time // the moment that a new round is offered for
}

func (r *rounding) day() calendar.Day { return calendar.DayOf(r.now, r.zone) }

func (r *rounding) path() string { return roundPath(r.plant.ID) }

// roundHour is when a round is usually made: the moment that is offered where the pages stand at a day
// that is over. Common practice, no source.
const roundHour = 20

func (s *Site) rounding(c echo.Context) (*rounding, error) {
	rows, err := s.deps.Ledger.Directory(c.Request().Context())
	if err != nil {
		return nil, err
	}
	r := &rounding{dir: inventory.NewDirectory(rows)}
	if r.plant = r.dir.Plant(plantID(c)); r.plant == nil {
		return nil, fault.New(fault.NotFound, "there is no plant %q: choose one from the Round page", plantID(c))
	}
	if r.zone, err = r.plant.Location(); err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "plant %s has an unknown time zone: correct its row first", r.plant.ID)
	}
	r.clock = s.deps.Clock()
	r.now = r.clock
	if s.deps.AsOf != nil {
		y, m, d := s.deps.AsOf.Civil()
		if evening := time.Date(y, m, d, roundHour, 0, 0, 0, r.zone); evening.Before(r.now) {
			r.now = evening
		}
	}
	return r, nil
}

// form lays the questions out; what was read last is looked for before a moment.
func (s *Site) form(c echo.Context, r *rounding, before time.Time, replaced, volumes map[string]bool) (*roundForm, error) {
	last, err := s.deps.Intake.LastBefore(c.Request().Context(), r.plant.ID, before, replaced)
	if err != nil {
		return nil, err
	}
	f := newRoundForm(r.dir, r.plant, r.zone, last, calendar.DayOf(before, r.zone), volumes)
	f.now = r.clock
	return f, nil
}

// askRound serves the empty form, or one with the values of a round that is to be corrected.
func (s *Site) askRound(c echo.Context) error {
	r, err := s.rounding(c)
	if err != nil {
		return err
	}
	if again := c.QueryParam("again"); again != "" {
		return s.askAgain(c, r, again)
	}
	f, err := s.form(c, r, r.now, nil, nil)
	if err != nil {
		return err
	}
	f.offer(r.now.Truncate(time.Minute))
	f.Key = newKey()
	return s.showRound(c, http.StatusOK, r, f)
}

// newKey makes the key under which a form is written once, however often it is sent.
func newKey() string { return "form-" + rand.Text() }

func (s *Site) askAgain(c echo.Context, r *rounding, again string) error {
	old, err := s.deps.Intake.RoundOf(c.Request().Context(), intake.Report{Key: again, Plant: r.plant.ID})
	if err != nil {
		return err
	}
	f, err := s.formOf(c, r, old)
	if err != nil {
		return err
	}
	f.offer(old.At)
	f.Key, f.Again = newKey(), again
	return s.showRound(c, http.StatusOK, r, f)
}

// takeRound writes a round down. A doubtful one is shown once more first, with what is doubtful about it.
func (s *Site) takeRound(c echo.Context) error {
	r, err := s.rounding(c)
	if err != nil {
		return err
	}
	v, err := sent(c)
	if err != nil {
		return err
	}
	f, err := s.received(c, r, v)
	if err != nil {
		return err
	}
	ctx := c.Request().Context()
	round, ok := f.report()
	compared, err := s.deps.Intake.RehearseRound(ctx, round)
	if !ok {
		return s.refuseRound(c, r, f, err)
	}
	if err == nil && f.compare(compared, calendar.DayOf(round.At, r.zone)) && v.Get("confirm") != f.seal() {
		return s.confirmRound(c, r, f)
	}
	before := s.inForce(c, r.plant.ID)
	round.Confirmed = v.Get("confirm") == f.seal()
	if err == nil {
		var receipt intake.Receipt
		if receipt, err = s.deps.Intake.Round(ctx, round); err == nil {
			return c.Redirect(http.StatusSeeOther, donePath(r, f.Key, receipt, before))
		}
	}
	return s.refuseRound(c, r, f, err)
}

// refuseRound shows the form with what is wrong, beside what was typed.
func (s *Site) refuseRound(c echo.Context, r *rounding, f *roundForm, err error) error {
	status := http.StatusUnprocessableEntity // of what could not even be read
	if err != nil {
		if status, err = f.blame(err); err != nil {
			return err
		}
	}
	return s.showRound(c, status, r, f)
}

// received fills the form with what was sent.
func (s *Site) received(c echo.Context, r *rounding, v url.Values) (*roundForm, error) {
	before := r.now
	if at, problem := momentOf(v.Get("day"), v.Get("clock"), v.Get("offered"), r.zone); problem == "" {
		before = at
	}
	replaced, volumes := map[string]bool{}, map[string]bool{}
	for name := range v {
		if strings.HasPrefix(name, "replaces/") {
			replaced[v.Get(name)] = true
		}
	}
	for _, t := range r.dir.TanksOf(r.plant.ID) {
		if volume := v.Has("tanks/" + t.ID + "/volume"); volume || v.Has("tanks/"+t.ID+"/depth") {
			volumes[t.ID] = volume
		}
	}
	f, err := s.form(c, r, before, replaced, volumes)
	if err != nil {
		return nil, err
	}
	f.fill(v)
	return f, nil
}

// inForce gives a plant's advice in force, nil where there is none: a round is taken all the same.
func (s *Site) inForce(c echo.Context, plant string) *advice.Plant {
	now, err := s.deps.Desk.InForce(c.Request().Context())
	if err != nil {
		return nil
	}
	a, err := now.Plant(plant)
	if err != nil {
		return nil
	}
	return &a
}
