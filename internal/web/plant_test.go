package web

import (
	"html"
	"strings"
	"testing"

	"overwinter/internal/advice"
	"overwinter/internal/inventory"
	"overwinter/internal/resupply"
)

// spaced makes all kinds of spaces plain ones.
func spaced(text string) string { return strings.NewReplacer(joint, " ", thin, " ").Replace(text) }

func TestTheHeadingOfAPlantIsItsAnswer(t *testing.T) {
	hand := orin()
	hand.Status = resupply.InHand
	nothing, unfit := orin(), orin()
	nothing.Order.Lot, nothing.Order.Least = 0, 0
	unfit.Order.Lot = 0
	tests := []struct {
		plant advice.Plant
		want  string
	}{
		{orin(), "Order 118 to 158 kL by 9 April for the early summer barge"},
		{hand, "In hand: order 118 to 158 kL by 9 April for the early summer barge"},
		{tern(), "Order 120 kL by 2 May for the early summer barge"},
		{northgate(), "No window keeps the reserve: 34 kL short from 11 May"},
		{reef(), "In hand beyond 4 Oct 2032"},
		{marten(), "The stock is unknown: never read"},
		{nothing, "Nothing to order before 9 April"},
		{unfit, "Order by 9 April, but no lot of the early summer barge fits"},
	}
	for _, tt := range tests {
		if got := spaced(plantHeading(tt.plant)); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.plant.Name, got, tt.want)
		}
	}
}

func TestThePlantPageShowsWhatTheAdviceHolds(t *testing.T) {
	e := server(keep(t, everyStatus()...), asOf)
	tests := []struct {
		path        string
		says, lacks []string
	}{
		{"/plants/cape-orrin", []string{
			"Ordered later, the fuel could come after that.", "In one path in twenty the order would have to be placed even earlier",
			"<th scope=\"col\" class=\"n\">draws</th>", "+70 000", "Order PO-7 arrives; last day to order", "16 August: the stock falls below the reserve.",
			"Less 1 day slip: 15 August.", "was gauged at 123 456 mm on 1 February", "comes too late on 4.8 % of 1 000 paths", "in transit",
			"3 Mar, 07:10 AKST", "166 000 ± 900", "−900", "+300", "/plants/cape-orrin/round", "/json/cape-orrin", "3 Jan to 6 Jan",
		}, []string{"The shortage", "below nothing", "Path 791"}},
		{"/plants/northgate", []string{"The shortage", "Two loads by air would close the gap, if the first is ordered by 5 May.", "2 of 17 kL", "if ordered by 5 May", "45 000 USD", "That lot counts on the gap being closed first."},
			[]string{"tried on other paths"}},
		{"/plants/tern", []string{"After 2 May the supplier takes no orders for the early summer barge any more. Even so 42 kL are missing from 6 April 2032 on at the accepted risk: on ", "supplier’s deadline"}, nil},
		{"/plants/reef", []string{"stays above its reserve as far as anybody looked"}, []string{"The order"}},
		{"/plants/marten%20spit%2F2", []string{"the tanks were never gauged together", "The consumption is not known yet", "Enter a round"}, []string{"id=\"tanks\""}},
	}
	for _, tt := range tests {
		page := spaced(html.UnescapeString(get(e, tt.path).Body.String()))
		for _, text := range tt.says {
			if !strings.Contains(page, text) {
				t.Errorf("%s does not say %q", tt.path, text)
			}
		}
		for _, text := range tt.lacks {
			if strings.Contains(page, text) {
				t.Errorf("%s says %q", tt.path, text)
			}
		}
	}
}

func TestSeriousNoticesComeFirst(t *testing.T) {
	rows := noticeRows(orin())
	if len(rows) != 2 || rows[0].Severity != "serious" || !rows[0].Act || rows[1].Subject != "" {
		t.Errorf("notices: %+v", rows)
	}
}

func TestTanksReadInTheUnitsOfThePlantsPeople(t *testing.T) {
	// 2540 mm are 100 in, −10 °C are 14 °F, 3785.411784 L are 1000 US gal.
	v := tanksOf(orin(), inventory.Display{Volume: "us_gal", Depth: "in", Temperature: "f"})
	r := v.Rows[0]
	if r.Level != "100" || r.Temperature != "14.0*" || spaced(r.Below) != "1 000" || v.Volume != "US gal" || !v.Assumed {
		t.Errorf("%+v", r)
	}
	v = tanksOf(orin(), inventory.Display{})
	r = v.Rows[0]
	if spaced(r.Level) != "2 540" || r.Temperature != "−10.0*" || spaced(r.Below) != "3 785" || v.Volume != "L" {
		t.Errorf("%+v", r)
	}
	if r = v.Rows[1]; r.Gauged != "never" || r.Usable != none || r.Water != none || !strings.Contains(r.Role, "out of service") {
		t.Errorf("a tank of which nothing is known reads %+v", r)
	}
}

func TestTheColumnsOfTheArithmeticAreThoseWithFigures(t *testing.T) {
	p := orin()
	for i := range p.Explanation.Lines {
		p.Explanation.Lines[i].Draws, p.Explanation.Lines[i].Received = 0, 0
	}
	if v := whyOf(p, 0.05); v.Draws || v.Received || v.Missing {
		t.Errorf("%+v", v)
	}
	p.Explanation.Lines[2].Stock = -5
	if v := whyOf(p, 0.05); !v.Missing || v.Lines[2].Stock != "−5" || !v.Lines[2].Below {
		t.Errorf("%+v", v)
	}
}

func TestAdviceThatWasSavedInAnotherFormIsShownAsUnreadable(t *testing.T) {
	k := keep(t, orin(), tern())
	body := string(k.rows[0].Body)
	from := strings.Index(body, `"steps":[`)
	until := from + strings.Index(body[from:], "]")
	k.rows[0].Body = []byte(body[:from] + `"steps":["2031-08-16: the stock falls below the reserve"` + body[until:])
	e := server(k, asOf)
	for path, text := range map[string]string{"/": "Tern Landing", "/plants/cape-orrin": "its saved advice cannot be read", "/plants/tern": "Tern Landing"} {
		w := get(e, path)
		if w.Code != 200 || !strings.Contains(w.Body.String(), text) {
			t.Errorf("%s: status %d, does not say %q", path, w.Code, text)
		}
	}
}
