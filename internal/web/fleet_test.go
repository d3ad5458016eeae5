package web

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

// named gives a plant another name.
func named(p advice.Plant, name string) advice.Plant {
	p.Name, p.Plant = name, name
	return p
}

// overfilled is a plant whose order on its way finds too little room.
func overfilled() advice.Plant {
	p := tern()
	p.Notices = notice.List{notice.New(notice.Serious, "order-overfull", "order A", "")}
	return p
}

// due is an unknown plant with a supplier's deadline to come, and one that has passed.
func due() advice.Plant {
	p := marten()
	p.Windows = []advice.Window{
		{Route: "kestrel-barge", Mode: "barge", Window: "autumn", Deadline: pointer(asOf - 1)},
		{Route: "kestrel-barge", Mode: "barge", Window: "early-summer", Deadline: pointer(calendar.Date(2031, 3, 25))},
	}
	return p
}

func TestTheHeadingOfTheFleetIsTheAnswer(t *testing.T) {
	short, now, soon, hand, unknown := northgate(), orin(), tern(), reef(), marten()
	known := reef()
	known.Order = tern().Order
	tests := []struct {
		name        string
		plants      []advice.Plant
		title, lead string
	}{
		{"short and now", []advice.Plant{short, now, named(now, "Heron Point")}, "One plant is short and two need an order now",
			"No window keeps Northgate above its reserve: 34 kL are missing between 11 May and 21 June; two loads by air would close the gap if the first is ordered by 5 May. Cape Orrin and Heron Point must order by 9 April for the early summer barge."},
		{"now", []advice.Plant{now}, "One plant needs an order now", "Cape Orrin must order by 9 April for the early summer barge."},
		{"now and unknown", []advice.Plant{now, unknown}, "One plant needs an order now",
			"Cape Orrin must order by 9 April for the early summer barge. The stock of Marten <Spit> is unknown: enter a round for it."},
		{"soon", []advice.Plant{soon, hand}, "No plant needs an order now; one will soon", "The next order is due by 2 May: Tern Landing, for the early summer barge."},
		{"one in hand", []advice.Plant{hand}, "The plant is in hand", ""},
		{"all in hand", []advice.Plant{known, named(known, "B")}, "All two plants are in hand", "The next order is due by 2 May: Outer Reef, for the early summer barge."},
		{"all unknown", []advice.Plant{unknown, named(unknown, "B")}, "No plant’s stock is known",
			"The newest readings are too old, or too few, to forecast from: enter a round for each plant."},
		{"more on its way than fits", []advice.Plant{overfilled(), hand}, "No plant needs an order now; one will soon",
			"More is on its way to Tern Landing than there is likely to be room for. The next order is due by 2 May: Tern Landing, for the early summer barge."},
		{"unknown before a deadline", []advice.Plant{hand, due()}, "One plant is unknown; the others are in hand",
			"The stock of Marten <Spit> is unknown: enter a round for it, before the deadline of 25 March for the early summer barge."},
		{"some unknown", []advice.Plant{unknown, hand}, "One plant is unknown; the others are in hand", "The stock of Marten <Spit> is unknown: enter a round for it."},
	}
	for _, tt := range tests {
		title, lead := fleetAnswer(tt.plants)
		if lead = strings.ReplaceAll(lead, joint, " "); title != tt.title || lead != tt.lead {
			t.Errorf("%s: got\n%s\n%s\nwant\n%s\n%s", tt.name, title, lead, tt.title, tt.lead)
		}
	}
}

func TestALeadNamesAFewCasesAndCountsTheRest(t *testing.T) {
	var plants []advice.Plant
	for range 9 {
		plants = append(plants, northgate())
	}
	if _, lead := fleetAnswer(plants); strings.Count(lead, "Northgate") != most || !strings.HasSuffix(lead, "The table holds the rest.") {
		t.Errorf("lead: %s", lead)
	}
}

func TestARowSaysWhatToDo(t *testing.T) {
	tests := []struct {
		plant advice.Plant
		want  fleetRow
	}{
		{northgate(), fleetRow{Status: "short", Detail: "34 kL short from 11 May: two loads by air", Act: true, Days: "166", OrderBy: "9 Apr", Reached: "1 Aug to 1 Sep", Reading: "today"}},
		{orin(), fleetRow{Status: "order now", Detail: "least 118, most 158 kL", Act: true, Days: "166", OrderBy: "9 Apr", Reached: "1 Aug to 1 Sep", Reading: "today"}},
		{tern(), fleetRow{Status: "order soon", Detail: "lot 120 of 200 kL needed", Days: "166", OrderBy: "2 May", Reached: "1 Aug to 1 Sep", Reading: "today"}},
		{reef(), fleetRow{Status: "in hand", Detail: "no order in sight", Days: "beyond", OrderBy: none, Reached: "beyond 4 Oct 2032", Reading: "today"}},
		{marten(), fleetRow{Status: "unknown", Detail: "never read", Days: none, OrderBy: none, Reached: none, Reading: none}},
	}
	for _, tt := range tests {
		got := rowOf(tt.plant)
		got.Path, got.Name, got.Group, got.Notices = "", "", "", ""
		for _, text := range []*string{&got.Detail, &got.OrderBy, &got.Reached} {
			*text = strings.ReplaceAll(*text, joint, " ")
		}
		if got != tt.want {
			t.Errorf("%s: got %+v, want %+v", tt.plant.Name, got, tt.want)
		}
	}
}

func TestAFilterLeavesRowsOutAndTheAnswerWhole(t *testing.T) {
	e := server(keep(t, everyStatus()...), asOf)
	tests := []struct {
		query string
		shown []string
	}{
		{"", []string{"northgate", "cape-orrin", "marten%20spit%2F2", "tern", "reef"}},
		{"?status=order+now", []string{"cape-orrin"}},
		{"?group=teal-lakes", []string{"tern"}},
		{"?q=NORTH", []string{"northgate"}},
		{"?q=reef&status=short", nil},
		{"?status=", []string{"northgate", "cape-orrin", "marten%20spit%2F2", "tern", "reef"}},
	}
	for _, tt := range tests {
		page := get(e, "/"+tt.query).Body.String()
		for _, p := range everyStatus() {
			path := plantPath(p.Plant)
			want := false
			for _, id := range tt.shown {
				want = want || path == "/plants/"+id
			}
			if got := strings.Contains(page, `<a href="`+path+`">`); got != want {
				t.Errorf("%q shows %s: %v, want %v", tt.query, path, got, want)
			}
		}
		if !strings.Contains(page, "<h1>One plant is short and one needs an order now</h1>") {
			t.Errorf("%q changes the answer", tt.query)
		}
	}
}

func TestAdviceOfAnEarlierDayIsSaidToBeOld(t *testing.T) {
	young := tern()
	young.AsOf++
	tests := []struct {
		name   string
		plants []advice.Plant
		later  int
		want   string
	}{
		{"today's", everyStatus(), 0, ""},
		{"all old", everyStatus(), 3, "These answers are up to 3 days old"},
		{"one old", []advice.Plant{orin(), young}, 1, "The answers for one plant are up to 1 day old"},
	}
	for _, tt := range tests {
		today := after(tt.later)
		s := New(Deps{AsOf: &today})
		if got := strings.ReplaceAll(s.staleFleet(tt.plants), joint, " "); (got == "") != (tt.want == "") || !strings.HasPrefix(got, tt.want) {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

func TestAPlantWithoutAModeIsNamedByItsWindow(t *testing.T) {
	p := orin()
	for route, want := range map[[2]string]string{
		{"kestrel-barge", "early-summer"}: "early summer barge",
		{"air", ""}:                       "air",
		{"elsewhere", "late-fall"}:        "late fall window",
		{"elsewhere", ""}:                 "route elsewhere",
	} {
		if got := delivery(p, route[0], route[1]); got != want {
			t.Errorf("%v: %q, want %q", route, got, want)
		}
	}
	p.Windows = []advice.Window{{Route: "r", Mode: "winter-road", Window: "winter"}}
	if got := delivery(p, "r", "winter"); got != "winter road" {
		t.Errorf("a window that is named like its mode is called %q", got)
	}
}

func TestTheRibbonsShareAnAxisThatHoldsTheLongestProjection(t *testing.T) {
	far := orin()
	far.Projection = projected(1e6, 200)
	for name, tt := range map[string]struct {
		plants []advice.Plant
		days   int
	}{
		"none known": {[]advice.Plant{marten()}, 365},
		"usual":      {[]advice.Plant{marten(), {AsOf: asOf, Projection: projected(1, 60), Status: resupply.InHand}}, 59 * 7},
		"very far":   {[]advice.Plant{far}, ribbonDays},
	} {
		if a := sharedAxis(tt.plants); a.From != asOf || a.Until != after(tt.days) {
			t.Errorf("%s: %v to %v, want %d days", name, a.From, a.Until, tt.days)
		}
	}
}

// heaviest is how much the page of 300 plants may weigh compressed.
const heaviest = 300_000

func TestThePageOf300PlantsIsLight(t *testing.T) {
	page := get(server(keep(t, large(300)...), asOf), "/").Body.Bytes()
	if n := compressed(t, page); n > heaviest {
		t.Errorf("%d bytes compressed, want at most %d", n, heaviest)
	}
}

func compressed(t testing.TB, page []byte) int {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	if _, err := w.Write(page); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Len()
}

func BenchmarkFleetPage300(b *testing.B) {
	e := server(keep(b, large(300)...), asOf)
	page := get(e, "/").Body.Bytes()
	request := httptest.NewRequest(http.MethodGet, "/", nil)
	for b.Loop() {
		w := httptest.NewRecorder()
		e.ServeHTTP(w, request)
		if w.Code != http.StatusOK {
			b.Fatal(w.Body)
		}
	}
	b.ReportMetric(float64(compressed(b, page)), "gzip-bytes")
	b.ReportMetric(float64(len(page)), "bytes")
}

func TestTheIdsOfALargeFleetHoldNoSpace(t *testing.T) {
	all := make([]advice.Plant, 1001)
	for i := range all {
		all[i] = marten() // the lightest
		all[i].Plant = fmt.Sprintf("marten-%d", i)
	}
	page := get(server(keep(t, all...), asOf), "/").Body.String()
	checkPage(t, page)
	if !strings.Contains(page, `"/plants/marten-1000"`) {
		t.Error("the page does not go to the end")
	}
}
