package resupply

import (
	"math"
	"testing"
)

// A geometric random walk keeps its expected price whatever its deviation; ln price after a year has the stated
// deviation, and deliveries of one route share the walk.
func TestPricesKeepTheirMeanAndTheirDeviation(t *testing.T) {
	const n = 20_000
	p := &Problem{AsOf: asOf, Horizon: 800}
	w := &Window{
		Route: "barge", Opens: same(n, 365), Closes: same(n, Never), Lead: same(n, 0), Slip: same(n, 0),
		Terms: Terms{Price: 1.2, Freight: 0.3, Growth: 0.05, SD: 0.2, Currency: "USD"},
	}
	o := &occasion{window: w, arrival: w.Opens}
	prices := p.prices(o, 1)
	want := 1.2*math.Pow(1.05, 365/yearDays) + 0.3
	if got := spreadOf(prices); math.Abs(got.Mean-want) > 4*got.Error {
		t.Errorf("mean %.4f ± %.4f, want %.4f", got.Mean, got.Error, want)
	}
	logs := spreadOf(perPath(n, func(s int) float64 { return math.Log((prices[s] - 0.3) / 1.2) }))
	if sd := logs.Error * math.Sqrt(n); math.Abs(sd-0.2) > 0.2*4/math.Sqrt(2*n) {
		t.Errorf("the logarithm deviates by %.4f, want 0.2", sd)
	}
	if z := walkTo(1, "price/barge", 7, 365); z != walkTo(1, "price/barge", 7, 365) || z == walkTo(1, "price/road", 7, 365) {
		t.Error("a walk is its route's and its path's alone")
	}
	early := &occasion{window: &Window{Route: "barge", Terms: Terms{Price: 1.2, PayFromOrder: true}}, ordered: 100, arrival: w.Opens}
	if day := early.window.Terms.pays(early.ordered, 365); day != 100 {
		t.Errorf("paid on day %d, want that of the order", day)
	}
}

// Worked by hand on the plant of the plan by hand: without the first delivery nothing can come before day 430, so
// that what the first lot would have brought is flown: 34,900 L at 4 in loads of 1,000 L, 35 of them. Saving 5 % of
// 100 L a day leaves 5 × 64 = 320 L more on day 65 and asks for 5 × 365 = 1,825 L less.
func TestOptionsCompareOnTheSamePaths(t *testing.T) {
	p := plain()
	for i := range p.Windows {
		p.Windows[i].Terms = Terms{Fixed: 500, Price: 1, Currency: "USD"}
		p.Windows[i].Closes = same(paths, p.Windows[i].Opens[0]+10) // too soon for a later delivery
	}
	options := map[OptionKind]Option{}
	for _, o := range p.Plan(1).Options(p, 1) {
		options[o.Kind] = o
	}
	fails := options[WindowFails]
	// 35 loads of 1,000 L at 4, of which 100 L more than needed are worth 1 each at the end; the lot and its stop are saved.
	if want := 35_000*4.0 - 100 - 34_900 - 500; math.Abs(fails.More-want) > 1e-6 || fails.Error != 0 || fails.Below != 1 || fails.Fallback != 35_000 {
		t.Errorf("a failing window: %+v, want %.0f more", fails, want)
	}
	if s := fails.Short; s == nil || s.Litres != 35_000 || s.From != *day(81) || len(s.Loads) != 1 || s.Loads[0].Loads != 35 || s.Loads[0].Cost != 140_000 {
		t.Errorf("short %+v, want 35 loads from day 81", fails.Short)
	}
	if skip := options[SkipDelivery]; math.Abs(skip.More-fails.More) > 1e-6 {
		t.Errorf("skipping the only delivery costs %.1f more, its window's failing %.1f", skip.More, fails.More)
	}
	if full := options[FillUp]; math.Abs(full.More) > 1e-6 || full.Below != 0 { // no interest is stated, and what is left is worth its price
		t.Errorf("filling up: %+v, want no difference", full)
	}
	if saved := options[SaveFuel]; math.Abs(saved.More+0.1*100*429) > 1e-6 { // the last is 10 % of 100 L a day up to day 429, at 1
		t.Errorf("saving a tenth: %.1f, want −4,290", saved.More)
	}
}
