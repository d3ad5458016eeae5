package web

import (
	"net/http"
	"net/url"
	"strconv"
	"time"

	"github.com/labstack/echo/v4"
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
		Written: r.path() + "/" + url.PathEscape(f.Key), Lead: "Write down what you read. What was not read stays empty.", Volume: scalesOf(r.plant.Display).volume.Label,
		Zone: r.now.In(r.zone).Format("MST"),
	}
	if f.Again != "" {
		p.Title, p.Lead = "Correct the round at "+r.plant.Name, "What you send now stands in the place of what was written. A value that you take out is withdrawn."
	}
	a := s.inForce(c, r.plant.ID)
	f.guideDayTanks(a)
	if a != nil && a.Burn != nil {
		volume := scalesOf(r.plant.Display).volume
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
