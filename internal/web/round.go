package web

import (
	"crypto/rand"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
)

// roundPage asks for one round of one plant.
type roundPage struct {
	Frame
	*roundForm
	Name    string
	Path    string
	Lead    string
	Written string // address of what was written under the form's key
	Confirm string // seal of the doubtful values that the button keeps, "" where nothing is to be confirmed
	Low     string // of a usual day's burn, for the script
	High    string
	Zone    string
	Volume  string // the unit of what the script says
	Last    []writtenRound
}

var roundTemplate = load[roundPage]("round")

func (s *Site) registerRound(e *echo.Echo) {
	e.Match([]string{http.MethodGet, http.MethodHead}, "/round", s.chooseRound)
	e.Match([]string{http.MethodGet, http.MethodHead}, "/plants/:id/round", s.askRound)
	e.POST("/plants/:id/round", s.takeRound)
	e.Match([]string{http.MethodGet, http.MethodHead}, "/plants/:id/round/:key", s.roundDone)
}

// rounding is what every page about a plant's rounds begins with.
type rounding struct {
	dir   *inventory.Directory
	plant *inventory.Plant
	zone  *time.Location
	now   time.Time // the moment that a new round is offered for
}

func (r *rounding) day() calendar.Day { return calendar.DayOf(r.now, r.zone) }

func (r *rounding) path() string { return "/plants/" + url.PathEscape(r.plant.ID) + "/round" }

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
	r.now = s.deps.Clock()
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
	return newRoundForm(r.dir, r.plant, r.zone, last, calendar.DayOf(before, r.zone), volumes), nil
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
	f.at(r.now)
	f.Key = newKey()
	return s.showRound(c, http.StatusOK, r, f)
}

// newKey makes the key under which a form is written once, however often it is sent.
func newKey() string { return "form-" + rand.Text() }

func (f *roundForm) at(t time.Time) {
	t = t.In(f.zone)
	f.Day, f.Clock = t.Format(time.DateOnly), t.Format("15:04")
}

func (s *Site) askAgain(c echo.Context, r *rounding, again string) error {
	old, err := s.deps.Intake.RoundOf(c.Request().Context(), intake.Report{Key: again, Plant: r.plant.ID})
	if err != nil {
		return err
	}
	f, err := s.formOf(c, r, old)
	if err != nil {
		return err
	}
	f.at(old.At)
	f.Key, f.Again = newKey(), again
	return s.showRound(c, http.StatusOK, r, f)
}

// takeRound writes a round down. A doubtful one is shown once more first, with what is doubtful about it.
func (s *Site) takeRound(c echo.Context) error {
	r, err := s.rounding(c)
	if err != nil {
		return err
	}
	v, err := c.FormParams()
	if err != nil {
		return fault.Wrap(fault.Invalid, err, "the form could not be read")
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
	if at, problem := wallMoment(v.Get("day"), v.Get("clock"), r.zone); problem == "" {
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

func (s *Site) showRound(c echo.Context, status int, r *rounding, f *roundForm) error {
	p := s.roundPage(c, r, f)
	if title := f.heading(); title != "" {
		p.Title, p.Lead = title, "What you typed is kept below."
	}
	if f.Clash {
		p.Title, p.Lead = "Nothing was written this time", "What you typed is kept below, to compare."
	}
	return roundTemplate.render(c, status, p)
}

// confirmRound shows doubtful values once more.
func (s *Site) confirmRound(c echo.Context, r *rounding, f *roundForm) error {
	p := s.roundPage(c, r, f)
	p.Title, p.Lead = "Look once more before this is written", "Something does not fit what was read before. If it is as you read it, keep it; otherwise change it here."
	p.Confirm = f.seal()
	return roundTemplate.render(c, http.StatusOK, p)
}

// lastRounds is how many rounds of the last days a page offers to correct.
const lastRounds = 5

// writtenRound is a round that can be entered again.
type writtenRound struct{ When, Values, Path string }

// written lists the last rounds of a plant. The page stands without them.
func (s *Site) written(c echo.Context, r *rounding) []writtenRound {
	all, err := s.deps.Intake.Rounds(c.Request().Context(), r.plant.ID, 14*24*time.Hour)
	if err != nil {
		return nil
	}
	var rows []writtenRound
	for _, w := range all[:min(lastRounds, len(all))] {
		rows = append(rows, writtenRound{clockMoment(w.At, r.zone, r.day()), count(w.Values, "reading", "readings"), r.path() + "?again=" + url.QueryEscape(w.Key)})
	}
	return rows
}

func (s *Site) roundPage(c echo.Context, r *rounding, f *roundForm) roundPage {
	p := roundPage{
		Frame: s.frame(c, "round", "Round at "+r.plant.Name), roundForm: f, Name: r.plant.Name, Path: r.path(),
		Written: r.path() + "/" + url.PathEscape(f.Key), Lead: "Write down what you read. What was not read stays empty.", Volume: scalesOf(r.plant).volume.Label,
		Zone: r.now.In(r.zone).Format("MST"),
	}
	if f.Again != "" {
		p.Title, p.Lead = "Correct the round at "+r.plant.Name, "What you send now stands in the place of what was written. A value that you take out is withdrawn."
	}
	if a := s.inForce(c, r.plant.ID); a != nil && a.Burn != nil {
		volume := scalesOf(r.plant).volume
		p.Low, p.High = plainWhole(volume.FromStored(a.Burn.UsualLow)), plainWhole(volume.FromStored(a.Burn.UsualHigh))
	}
	if f.Again == "" {
		p.Last = s.written(c, r)
	}
	noStore(c)
	return p
}

// plainWhole writes a whole number for the script.
func plainWhole(x float64) string { return strconv.FormatFloat(x, 'f', 0, 64) }

// noStore keeps pages that hold a form's key out of caches; going back in the browser still finds them.
func noStore(c echo.Context) { c.Response().Header().Set(echo.HeaderCacheControl, "private, no-cache") }

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
