package web

import (
	"regexp"
	"strings"
	"testing"

	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

// full is a step of a kind with every value that a step can have.
func full(kind resupply.StepKind) resupply.Step {
	return resupply.Step{
		Kind: kind, Day: pointer(after(-305)), Days: pointer(1), Litres: pointer(int64(68_245)), Limit: pointer(68_245.0), Lot: pointer(int64(70_030)), Risk: pointer(0.05),
		Route: "kestrel-barge", Window: "early-summer", Opening: pointer(after(99)),
	}
}

// machineForm is what a coordinator should not have to read: dates and numbers as machines write them, the
// names that the ledger has for things, and the words of the other programs.
var machineForm = regexp.MustCompile(`\d{4}-\d\d|\d{4,}|1 days|early-summer|kestrel-barge|horizon|future|shut|%!|'`)

func TestThePageHasWordsForEveryKindOfStep(t *testing.T) {
	said := map[string]bool{}
	for _, kind := range resupply.StepKinds() {
		text := spaced(wordsOf(full(kind), orin()))
		if year := " 2030"; strings.Contains(text, year) {
			text = strings.ReplaceAll(text, year, "") // of the day
		}
		switch {
		case text == "":
			t.Errorf("the page has no words for a step %q", kind)
		case said[text]:
			t.Errorf("%q: the words %q are those of another kind", kind, text)
		case machineForm.MatchString(text):
			t.Errorf("%q: %q is for machines", kind, text)
		}
		said[text] = true
		for what, holds := range map[string]string{"day": " May", "number of days": "1 day ", "litres": "68 245 L", "risk": "5 %", "delivery": "summer barge"} {
			if speaksOf(kind, what) && !strings.Contains(text, holds) {
				t.Errorf("%q: %q says nothing of its %s", kind, text, what)
			}
		}
	}
}

// speaksOf asks resupply's own words whether a kind speaks of a value.
func speaksOf(kind resupply.StepKind, what string) bool {
	s := full(kind)
	text := s.Text()
	switch what {
	case "day":
		return strings.Contains(text, s.Day.String())
	case "number of days":
		return strings.Contains(text, "1 day ")
	case "litres":
		return strings.Contains(text, "68245 L")
	case "risk":
		return strings.Contains(text, "5 %")
	}
	return strings.Contains(text, s.Route)
}

func TestThePageHasWordsForEveryKindOfEvent(t *testing.T) {
	said := map[string]bool{}
	for _, kind := range resupply.EventKinds() {
		e := resupply.Event{Kind: kind, Order: "PO-7"}
		text := eventInWords(e)
		if text == "" || said[text] || machineForm.MatchString(text) {
			t.Errorf("the page says %q for an event %q", text, kind)
		}
		if strings.Contains(text, "PO-7") != strings.Contains(e.Text(), "PO-7") {
			t.Errorf("%q: %q names an order where none arrives, or none where one does", kind, text)
		}
		said[text] = true
	}
}

func TestThereAreNoWordsForAKindThatThereIsNot(t *testing.T) {
	if text := wordsOf(resupply.Step{Kind: "else"}, orin()) + eventInWords(resupply.Event{Kind: "else"}); text != "" {
		t.Errorf("there are words for a kind that there is not: %q", text)
	}
}

func TestTheWordsOfTheArithmeticAreACoordinators(t *testing.T) {
	day := pointer(after(-305)) // of another year
	tests := []struct {
		step resupply.Step
		want string
	}{
		{resupply.Step{Kind: resupply.ClosesAfter, Day: pointer(after(78))}, "20 May: the last day before the window closes"},
		{resupply.Step{Kind: resupply.LessSlip, Day: day, Days: pointer(1)}, "less 1 day slip: 2 May 2030"},
		{resupply.Step{Kind: resupply.LessLead, Day: day, Days: pointer(31)}, "less 31 days lead time: order by 2 May 2030"},
		{resupply.Step{Kind: resupply.MissingAtRisk, Litres: pointer(int64(68_245))}, "68 245 L cover the shortage at the risk target, on the paths that go worse as well"},
		{resupply.Step{Kind: resupply.BringsNothing, Route: "kestrel-barge", Window: "early-summer"}, "on this path nothing comes by early summer barge"},
		{resupply.Step{Kind: resupply.BringsNothing, Route: "air", Window: "all year"}, "on this path nothing comes by air"},
		{resupply.Step{Kind: resupply.ReserveHolds, Risk: pointer(0.05)}, "on all but the accepted 5 % of paths the stock stays above the reserve to the end of the time looked at"},
		{resupply.Step{Kind: resupply.NeverOpens, Route: "kestrel-barge", Window: "early-summer", Opening: pointer(after(99))}, "early summer barge from 10 June: its window opens on no path"},
	}
	for _, tt := range tests {
		if got := spaced(stepInWords(tt.step, orin())); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
	events := []resupply.Event{{Kind: resupply.OrderArrives, Order: "A-7"}, {Kind: resupply.BelowReserve}}
	if got := eventsInWords(events); got != "Order A-7 arrives; first day below the reserve" {
		t.Errorf("%q", got)
	}
}

func TestANoticeIsSetAsThePageIs(t *testing.T) {
	for message, want := range map[string]string{
		"gauged at 123456 mm on 2031-02-01":                 "gauged at 123 456 mm on 1 February",
		"order 2031-13-45 is no date, 2031 is a year":       "order 2031-13-45 is no date, 2031 is a year",
		"the register fell from 1330713 to 12":              "the register fell from 1 330 713 to 12",
		"the window early-summer is lost, 30000 kL with it": "the window early summer is lost, 30 000 kL with it",
	} {
		if got := spaced(typeset(notice.New(notice.Info, "code", "kestrel-barge", "%s", message), orin())); got != want {
			t.Errorf("%q: %q, want %q", message, got, want)
		}
	}
	named := notice.New(notice.Info, "code", "order 20310213", "order 20310213 has room for 12345 L")
	if got := spaced(typeset(named, orin())); got != "order 20310213 has room for 12 345 L" {
		t.Errorf("%q", got)
	}
	other := notice.New(notice.Info, "code", "tank early-summer", "tank early-summer was never gauged")
	if got := typeset(other, orin()); got != other.Message {
		t.Errorf("a name that is no window's is changed: %q", got)
	}
}

func TestEveryLimitOfALotHasAName(t *testing.T) {
	for _, l := range []resupply.Limit{resupply.RoomLimit, resupply.RouteLimit, resupply.LeastLimit,
		resupply.DraftLimit, resupply.WeightLimit, resupply.TideLimit, resupply.DayOther} {
		if limitName(l) == limitName("") {
			t.Errorf("%q has no name", l)
		}
	}
	if limitName("") == "" {
		t.Error("a lot without a limit says nothing of it")
	}
}
