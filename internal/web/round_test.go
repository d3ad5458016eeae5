package web

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/resupply"
)

func TestTheFormAsksInThePlantsUnitsBesideTheLastValues(t *testing.T) {
	s := newRoundSite(t, nil)
	page := s.page(t, bayPath)
	holds(t, page, "Round at Bay &lt;1&gt;", `value="2026-03-02"`, `value="22:00"`, "AKST, at the plant",
		"999 801 · yesterday, 20:00", "100 · yesterday, 20:00", "79 · yesterday, 20:00", ">in<", ">US gal<", ">°F<", "Before you climb or open a hatch")
	again := s.page(t, bayPath)
	if hidden(t, page, "key") == hidden(t, again, "key") {
		t.Error("two forms have one key")
	}
}

func TestWhereThePagesStandAtADayItsEveningIsOffered(t *testing.T) {
	tests := []struct {
		day  calendar.Day
		want string
	}{
		{calendar.Date(2026, 3, 2), `value="20:00"`},
		{calendar.Date(2026, 3, 1), `value="20:00"`},
		{calendar.Date(2026, 3, 3), `value="22:00"`}, // still to come: now is offered
	}
	for _, tt := range tests {
		holds(t, newRoundSite(t, &tt.day).page(t, bayPath), tt.want)
	}
}

func TestAPlainRoundIsWrittenAtOnceAndOnce(t *testing.T) {
	s := newRoundSite(t, nil)
	form := bayForm("meters/fuel/register", "999 901", "tanks/a/depth", "99,25", "tanks/a/water", "0,5", "tanks/a/temperature", "14", "tanks/day/volume", "80", "tanks/day/temperature", "41")
	page := s.sentOn(t, s.post(form))
	holds(t, page, "Written: the round of today, 20:00", "Six values are in the ledger", "100 US gal since yesterday", "is usual",
		"0.75 in less than yesterday, 20:00", "Usable stock", "before this round it was taken to be", "Enter it again")
	rows := s.evening(t)
	if rows.Len() != 3 {
		t.Fatalf("%d rows, want three", rows.Len())
	}
	r, a, day := rows.Readings[0], rows.Gaugings[0], rows.Gaugings[1]
	// 99.25 in and 0.5 in by the definition of the inch; 14 °F is −10 °C.
	if r.Register != 999_901 || *a.Depth != 2520.95 || *a.Water != 12.7 || *a.Temperature != -10 || *day.Volume != 302.83294272 || *day.Temperature != 5 {
		t.Errorf("written: %+v, %+v, %+v", r, a, day)
	}
	if page = s.sentOn(t, s.post(form)); s.evening(t).Readings[0].Key != r.Key {
		t.Error("the same form was written twice")
	}
	holds(t, page, "This round had come before, and it is written once.")
}

func TestADoubtfulValueAsksForOneConfirmation(t *testing.T) {
	s := newRoundSite(t, nil)
	form := bayForm("meters/fuel/register", "999 950", "tanks/day/volume", "80", "tanks/day/temperature", "41")
	page := shown(t, s.post(form), http.StatusOK)
	holds(t, page, "Look once more before this is written", "outside what is usual", `value="999 950"`, "149 US gal since yesterday", "Keep these values")
	if n := s.evening(t); n.Len() != 0 {
		t.Fatalf("%d rows are written already", n.Len())
	}
	form.Set("confirm", hidden(t, page, "confirm"))
	form.Set("meters/fuel/register", "999 990")
	page = shown(t, s.post(form), http.StatusOK) // other values, another confirmation
	form.Set("confirm", hidden(t, page, "confirm"))
	holds(t, s.sentOn(t, s.post(form)), "999 990 counts", "outside what is usual")
	rows := s.evening(t)
	if n := len(rows.Confirmations); n != 2 || rows.Confirmations[0].Row != rows.Gaugings[0].Key || rows.Confirmations[1].Row != rows.Readings[0].Key {
		t.Errorf("%d confirmations, %+v: want one of each value, so that the books count it", n, rows.Confirmations)
	}
}

func TestWhatIsWrongStandsBesideItsFieldAndNothingIsLost(t *testing.T) {
	s := newRoundSite(t, nil)
	page := shown(t, s.post(bayForm(
		"meters/fuel/register", "1,234", "tanks/a/depth", "300", "tanks/day/temperature", "41", "clock", "23:30", "who", "A <b>",
	)), http.StatusUnprocessableEntity)
	holds(t, page, "Four things need another look; nothing is written yet", "can be read in two ways", "is above the tank", "write the volume too",
		"is in the future", `value="1,234"`, `value="300"`, `value="41"`, `value="23:30"`, `value="A &lt;b&gt;"`, `value="form-1"`)
	if n := strings.Count(page, "autofocus"); n != 1 {
		t.Errorf("%d fields have the focus, want the first wrong one", n)
	}
	page = shown(t, s.post(bayForm()), http.StatusUnprocessableEntity)
	holds(t, page, "Nothing is filled in yet")
	if n := s.evening(t); n.Len() != 0 {
		t.Errorf("%d rows are written", n.Len())
	}
}

func TestAFormThatIsWrittenIsNotWrittenOverWithOtherValues(t *testing.T) {
	s := newRoundSite(t, nil)
	s.sentOn(t, s.post(bayForm("meters/fuel/register", "999901")))
	page := shown(t, s.post(bayForm("meters/fuel/register", "999902")), http.StatusConflict)
	holds(t, page, "Nothing was written this time", `href="/plants/bay/round/form-1"`, `value="999902"`)
	if r := s.evening(t).Readings; len(r) != 1 || r[0].Register != 999_901 {
		t.Errorf("%+v", r)
	}
}

func TestAWrongDigitIsMendedByEnteringTheRoundAgain(t *testing.T) {
	s := newRoundSite(t, nil)
	s.sentOn(t, s.post(bayForm("meters/fuel/register", "999901", "tanks/a/depth", "99.25", "tanks/a/temperature", "14")))
	page := s.page(t, bayPath+"?again=form-1")
	holds(t, page, "Correct the round at", `value="999901"`, `value="99.25"`, `value="14"`, "999 801 · yesterday, 20:00")
	again := bayForm("key", hidden(t, page, "key"), "again", "form-1", "meters/fuel/register", "999903",
		"replaces/meters/fuel", hidden(t, page, "replaces/meters/fuel"), "replaces/tanks/a", hidden(t, page, "replaces/tanks/a"))
	lacks(t, s.sentOn(t, s.post(again)), "entered for", "99.25")
	holds(t, s.sentOn(t, s.post(again)), "This round had come before")
	if rows := s.evening(t); rows.Len() != 1 || rows.Readings[0].Register != 999_903 {
		t.Errorf("%d rows in force, want the corrected register alone", rows.Len())
	}
	if w := get(s.echo, bayPath+"/form-1"); w.Code != http.StatusNotFound {
		t.Errorf("the corrected round is shown with status %d", w.Code)
	}
	again.Set("key", "late")
	again.Set("meters/fuel/register", "999904")
	page = shown(t, s.post(again), http.StatusOK)
	again.Set("confirm", hidden(t, page, "confirm"))
	holds(t, shown(t, s.post(again), http.StatusConflict), "corrected by somebody else in the meantime")
}

func TestAPlantThatIsNotThereHasNoRound(t *testing.T) {
	s := newRoundSite(t, nil)
	for _, path := range []string{"/plants/nowhere/round", "/plants/bay/round/never", bayPath + "?again=never"} {
		if w := get(s.echo, path); w.Code != http.StatusNotFound {
			t.Errorf("%s has status %d", path, w.Code)
		}
	}
}

func TestThePlantIsChosenUnlessThereIsOneAlone(t *testing.T) {
	if w := get(newRoundSite(t, nil).echo, "/round"); w.Code != http.StatusSeeOther || w.Header().Get("Location") != bayPath {
		t.Errorf("status %d to %q", w.Code, w.Header().Get("Location"))
	}
	w := get(server(keep(t, everyStatus()...), asOf), "/round")
	page := shown(t, w, http.StatusOK)
	holds(t, page, `href="/plants/cape-orrin/round"`, `href="/plants/marten%20spit%2F2/round"`, "last read today, 07:10", "&lt;Spit&gt;")
	holds(t, shown(t, get(server(keep(t), asOf), "/round"), http.StatusOK), "There are no plants yet")
}

func TestTheRoundSaysWhatMoved(t *testing.T) {
	now := orin()
	was := func(pairs ...string) url.Values {
		v := url.Values{}
		for i := 0; i < len(pairs); i += 2 {
			v.Set(pairs[i], pairs[i+1])
		}
		return v
	}
	none := orin()
	none.Order, none.Stock.Usable = nil, nil
	tests := []struct {
		name string
		was  url.Values
		now  *advice.Plant
		want []string
	}{
		{"moved", was("status", "order soon", "stock", "167000", "order-by", "2031-04-10"), &now, []string{
			"Usable stock 166 000 L at the end of 3 March; before this round it was taken to be 167 000 L.",
			"Order by moved from 10 Apr to 9 Apr.", "The plant is now “order now”; before, it was “order soon”."}},
		{"the lot and the reserve moved", was("status", string(resupply.OrderNow), "stock", "166000", "order-by", "2031-04-09", "lot", "90000", "reserve", "2031-09-01"), &now, []string{
			"Usable stock unchanged, 166 000 L.", "Order by 9 Apr, unchanged.", "The lot is 120 kL now; before, it was 90 kL.",
			"The reserve is reached about 16 Aug now; before, about 1 Sep."}},
		{"unchanged", was("status", string(resupply.OrderNow), "stock", "166000", "order-by", "2031-04-09"), &now, []string{
			"Usable stock unchanged, 166 000 L.", "Order by 9 Apr, unchanged."}},
		{"nothing is known of before", was(), &now, []string{"Usable stock 166 000 L at the end of 3 March.", "Order by 9 Apr."}},
		{"a first order", was("status", "order now", "stock", "166000"), &now, []string{"Usable stock unchanged, 166 000 L.", "There is a day to order by now: 9 Apr."}},
		{"nothing known now", was("status", "order now", "order-by", "2031-04-09"), &none, []string{
			"The usable stock is not known: the tanks have not all been gauged for too long.", "There was a day to order by, 9 Apr, and there is none now."}},
		{"an address that somebody wrote", was("status", "<b>gone</b>", "stock", "x", "order-by", "y"), &now, []string{
			"Usable stock 166 000 L at the end of 3 March.", "There is a day to order by now: 9 Apr."}},
		{"no advice", was(), nil, []string{"There is no advice for this plant yet."}},
	}
	for _, tt := range tests {
		got := scalesOf(inventory.Display{}).moved(tt.was, tt.now)
		for i := range got {
			got[i] = spaced(got[i])
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s: %s", tt.name, diff)
		}
	}
}

// A poor line: the form is sent by two at once, and again.
func TestAFormSentTwiceAtOnceIsWrittenOnce(t *testing.T) {
	s := newRoundSite(t, nil)
	codes := make(chan *httptest.ResponseRecorder)
	for range 3 {
		go func() { codes <- s.post(bayForm("meters/fuel/register", "999901")) }()
	}
	for range 3 {
		if w := <-codes; w.Code != http.StatusSeeOther {
			t.Errorf("status %d: %s", w.Code, w.Body)
		}
	}
	if n := len(s.evening(t).Readings); n != 1 {
		t.Errorf("%d readings, want one", n)
	}
}

func TestARoundOfTheLastDaysIsFoundAgainAndCanBeCorrected(t *testing.T) {
	s := newRoundSite(t, nil)
	if w := s.post(bayForm("meters/fuel/register", "999901")); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", w.Code, w.Body)
	}
	page := spaced(get(s.echo, bayPath).Body.String())
	for _, text := range []string{"Written in the last days", "20:00: one reading", bayPath + "?again=form-1"} {
		if !strings.Contains(page, text) {
			t.Errorf("the page does not say %q", text)
		}
	}
	if done := spaced(get(s.echo, bayPath+"/form-1").Body.String()); !strings.Contains(done, "Not all tanks were gauged in this round.") {
		t.Errorf("the receipt does not say that the stock stands on older gaugings: %s", done)
	}
	if w := get(s.echo, bayPath+"/never"); w.Code != http.StatusNotFound || !strings.Contains(w.Body.String(), "Nothing of this round is in force") {
		t.Errorf("a round that was never written: %d, %s", w.Code, w.Body)
	}
}
