package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"net/http"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestPeopleFindTheirWayInABrowser takes each person's way through the pages, on a phone and at a desk,
// with and without script.
func TestPeopleFindTheirWayInABrowser(t *testing.T) {
	if raced {
		t.Skip("what a browser asks for is tried without the race detector, which makes the first forecast slow")
	}
	chromium(t)
	s := start(t, "--demo")
	s.advised()
	browser := browse(t)
	for _, person := range []struct {
		name string
		way  func(s *service, b *tab, name string)
	}{
		{"ACoordinatorFindsTheFirstPlantToOrderForAndOpensWhy", coordinate},
		{"AManagerReadsNextFiscalYearsLitresAndMoney", manage},
		{"AnOperatorEntersARoundAndSeesTheAdviceChange", operate},
		{"ABookkeeperConfirmsARowThatLooksWrong", keepBooks},
	} {
		for _, screen := range screens {
			for _, script := range []bool{true, false} {
				name := screen.name
				if !script {
					name += "-without-script"
				}
				t.Run(person.name+"/"+name, func(t *testing.T) {
					person.way(&service{t: t, url: s.url, log: s.log}, openTab(t, browser, s.url, screen, script), name)
				})
			}
		}
	}
}

func coordinate(s *service, b *tab, name string) {
	t := s.t
	b.visit("/")
	b.fits("fleet-" + name)
	var fleet struct {
		Plants []struct{ Plant, Name, Status string }
	}
	s.decode("/api/v1/plants", &fleet)
	first := fleet.Plants[0]
	if heading := b.text("h1"); !strings.Contains(heading, first.Status) {
		t.Errorf("the heading %q does not say that a plant is %s", heading, first.Status)
	}
	if row := b.text("table.fleet tbody tr"); !strings.Contains(row, first.Name) || !strings.Contains(row, first.Status) {
		t.Errorf("the first row is %q, want %s, %s", row, first.Name, first.Status)
	}
	b.follow("table.fleet tbody tr td a") // its status
	hash := evaluate[string](b, `location.hash`)
	if hash != "#why" || !strings.Contains(b.text("p.over"), first.Name) {
		t.Errorf("the status leads to %s of %q, not to the explanation of %s", hash, b.text("p.over"), first.Name)
	}
	b.fits("plant-" + name)
	addsUp(t, b)
	supposes(s, b, first.Plant, name)
}

// supposes asks on the Plant page what a tenth more load would do, and holds what is shown against the API.
func supposes(s *service, b *tab, plant, name string) {
	t := s.t
	b.do(chromedp.SendKeys(chromedp.CSS(`#suppose input[name="load_percent"]`), "10"))
	b.follow("#suppose button")
	b.fits("suppose-" + name)
	var want struct {
		Uses []struct {
			Without, With struct {
				P50 float64 `json:"p50_l15"`
			}
		}
	}
	s.decode("/api/v1/plants/"+plant+"/supposed?load_percent=10", &want)
	for i, row := range b.texts(".beside tbody tr")[:3] {
		for _, litres := range []float64{want.Uses[i].Without.P50, want.Uses[i].With.P50} {
			if shown := strconv.FormatFloat(litres/1000, 'f', 0, 64); litres > 10_000 && !strings.Contains(row, shown) {
				t.Errorf("%q does not say %s kL", row, shown)
			}
		}
		if !strings.Contains(row, "+10") {
			t.Errorf("%q does not say that a tenth more is used", row)
		}
	}
}

// addsUp checks the explanation's lines as a person with a pencil would: stock before, less burn and draws,
// plus received.
func addsUp(t *testing.T, b *tab) {
	t.Helper()
	heads := b.texts("#why thead th")
	lines := b.texts("#why tbody tr")
	if len(lines) < 3 {
		t.Fatalf("the explanation has %d lines", len(lines))
	}
	cells := b.texts("#why tbody td")
	width := len(heads) - 1
	stock := number(t, cells[width-2])
	for i := 1; i < len(lines); i++ {
		row := cells[i*width:][:width]
		for _, change := range row[:width-2] {
			if change != "" {
				stock += number(t, change)
			}
		}
		if shown := number(t, row[width-2]); shown != stock {
			t.Errorf("%s: the stock is %v, the lines add up to %v", lines[i], shown, stock)
		}
	}
}

// number reads a figure as the pages write it.
func number(t *testing.T, text string) float64 {
	t.Helper()
	plain := strings.NewReplacer("\u2009", "", "\u202f", "", "\u00a0", "", " ", "", "−", "-", "+", "").Replace(text)
	value, err := strconv.ParseFloat(plain, 64)
	if err != nil {
		t.Fatalf("%q is no number: %v", text, err)
	}
	return value
}

func operate(s *service, b *tab, name string) {
	t := s.t
	// Each screen has a plant of its own, so that each begins with untouched readings.
	plants := map[string]string{
		"phone": "cape-orrin", "phone-without-script": "grayling-mouth", "desk": "tern-landing", "desk-without-script": "marten-spit",
	}
	plant := plants[name]
	before := usable(t, s, plant)
	b.visit("/plants/" + plant + "/round")
	b.fits("round-" + name)
	fields := depths(t, b)
	for id, last := range fields {
		b.do(chromedp.SendKeys(chromedp.CSS("#"+id), strconv.FormatFloat(0.8*last, 'f', 2, 64)))
	}
	b.follow("form.round button")
	b.fits("round-asked-" + name)
	// So much gone in half a day is doubtful: the page asks once, and has kept what was typed.
	if button := b.text("form.round button"); button != "Keep these values" {
		t.Errorf("a fifth of the fuel gone in half a day is not asked about: the button says %q", button)
	}
	if after := usable(t, s, plant); after != before {
		t.Error("something was written before it was confirmed")
	}
	b.follow("form.round button")
	b.fits("round-done-" + name)
	after := usable(t, s, plant)
	if after > 0.95*before {
		t.Errorf("the stock was %.0f L and is %.0f L after dips a fifth lower", before, after)
	}
	moved := strings.Join(b.texts("ul.moved li"), "; ")
	if !regexp.MustCompile(`(?i)stock`).MatchString(moved) {
		t.Errorf("the page does not say how the stock moved: %q", moved)
	}
	written := b.texts("table.done tbody tr")
	if len(written) != len(fields) {
		t.Errorf("%d values were typed, the page shows %d: %q", len(fields), len(written), written)
	}
	b.do(chromedp.Reload()) // as on a poor line
	if again := usable(t, s, plant); again != after {
		t.Error("a reload wrote something")
	}
}

// usable gives a plant's usable stock in litres at 15 °C.
func usable(t *testing.T, s *service, plant string) float64 {
	t.Helper()
	var answer struct {
		Stock struct {
			Usable *float64 `json:"usable_l15"`
		}
	}
	s.decode("/api/v1/plants/"+plant+"/stock", &answer)
	if answer.Stock.Usable == nil {
		t.Fatalf("the stock of %s is not known", plant)
	}
	return *answer.Stock.Usable
}

// depths gives the tanks' depth fields with what each showed last, in the plant's own units.
func depths(t *testing.T, b *tab) map[string]float64 {
	t.Helper()
	found := evaluate[[]struct{ ID, Last string }](b,
		`[...document.querySelectorAll('input[name$="/depth"]')].map(e => ({ID: e.id, Last: e.dataset.last}))`)
	fields := map[string]float64{}
	for _, f := range found {
		fields[f.ID] = number(t, f.Last)
	}
	if len(fields) == 0 {
		t.Fatal("the page asks for no depth")
	}
	return fields
}

func manage(s *service, b *tab, name string) {
	t := s.t
	b.visit("/budget")
	b.fits("budget-" + name)
	cheap := nextYear(t, s, "")
	heading := b.text("h1")
	if kl := thousands(cheap.Litres.P50 / 1000); !strings.Contains(digits(heading), digits(kl)) {
		t.Errorf("the heading %q does not say %s kL", heading, kl)
	}
	b.do(chromedp.SetValue(chromedp.CSS(`input[name="price"]`), "3.00"), chromedp.SetValue(chromedp.CSS(`input[name="currency"]`), "CAD"))
	b.follow("form.sieve button")
	dear := nextYear(t, s, "?price=3&currency=CAD")
	if want := 2 * cheap.Money.P50; dear.Litres != cheap.Litres || dear.Money.P50 < want-2 || dear.Money.P50 > want+2 {
		t.Errorf("at twice the price %+v, before %+v", dear, cheap)
	}
	if text := b.text("main"); !strings.Contains(text, "CAD") {
		t.Error("the page does not speak of CAD")
	}
	status, table := s.get("/budget.csv?price=3&currency=CAD")
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if status != http.StatusOK || err != nil || len(rows) < 20 {
		t.Errorf("the table as CSV: %d, %d rows, %v", status, len(rows), err)
	}
}

// nextYear asks the API for the fiscal year after the current one.
func nextYear(t *testing.T, s *service, query string) (next struct {
	Litres struct{ P10, P50, P90 float64 } `json:"litres_l15"`
	Money  struct{ P10, P50, P90 int64 }   `json:"money_minor"`
}) {
	t.Helper()
	var b struct {
		Fleet struct{ Years []json.RawMessage }
	}
	s.decode("/api/v1/budget"+query, &b)
	if len(b.Fleet.Years) < 2 {
		t.Fatalf("the budget has %d fiscal years", len(b.Fleet.Years))
	}
	if err := json.Unmarshal(b.Fleet.Years[1], &next); err != nil {
		t.Fatal(err)
	}
	return next
}

func thousands(kl float64) string { return fmt.Sprintf("%.0f", kl) }

// digits leaves a text's digits alone, so that spaces between thousands do not matter.
func digits(text string) string { return regexp.MustCompile(`\D`).ReplaceAllString(text, "") }
