package api_test

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// told is what an answer says of doubts.
type told struct {
	Doubts []struct {
		Kind, Key, Cause, Scope, Subject, Message string
		Found, Low, High                          *float64
		Unit                                      *string
	}
	Settled []struct{ Kind, Key, Cause string } `json:"doubts_settled"`
}

func (a answer) told(t testing.TB) (all told) {
	t.Helper()
	a.read(t, &all)
	return all
}

// plantRows gives the rows in force of the demo's plant marten-spit.
func (w *world) plantRows(t testing.TB) inventory.Rows {
	t.Helper()
	rows, err := w.db.PlantRows(t.Context(), "marten-spit", time.Date(2100, 1, 1, 0, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// byKey finds the row of a key among rows of one kind.
func byKey[T inventory.Record](t testing.TB, rows []T, key string) (none T) {
	t.Helper()
	for _, r := range rows {
		if r.Base().Key == key {
			return r
		}
	}
	t.Fatalf("there is no row %s in force", key)
	return none
}

func pointer[T any](v T) *T { return &v }

func TestAnExampleIsWrittenAsItWasSent(t *testing.T) {
	w, all := open(t), examples(t)
	for operation, body := range all {
		if operation != "withdraw-row" {
			w.post("/api/v1"+reportOf[operation].path, "K", body).want(t, 201)
		}
	}
	entry := func(key, who string) inventory.Entry {
		return inventory.Entry{Key: key + "/marten-spit/K", Who: who}
	}
	at := time.Date(2026, time.March, 2, 20, 30, 0, 0, time.UTC)
	cold := func(v units.Litres) inventory.Measure {
		return inventory.Measure{Volume: v, Temperature: pointer(units.Celsius(-3)), Basis: inventory.BasisObserved}
	}
	march := calendar.Date(2026, time.March, 1)
	rows := w.plantRows(t)
	const plant, operator = "marten-spit", "A. Operator"
	farm2 := entry("delivery", operator)
	farm2.Key += "/farm-2"
	confirmed := entry("confirmation", operator)
	confirmed.Why = "Read again, both digits."
	for _, tt := range []struct{ got, want inventory.Record }{
		{byKey(t, rows.Readings, "meter-reading/marten-spit/K"), &inventory.MeterReading{
			Entry: entry("meter-reading", operator), Plant: plant, Meter: "fuel", At: at, Register: 83624, Temperature: pointer(units.Celsius(4.5))}},
		{byKey(t, rows.Swaps, "meter-swap/marten-spit/K"), &inventory.MeterSwap{
			Entry: entry("meter-swap", operator), Plant: plant, Meter: "fuel", At: at.Add(time.Hour), Closing: pointer(83627.0), Opening: pointer(12.0)}},
		{byKey(t, rows.Provings, "meter-proving/marten-spit/K"), &inventory.Proving{
			Entry: entry("meter-proving", "A. Inspector"), Plant: plant, Meter: "fuel", At: at, Factor: 1.0021}},
		{byKey(t, rows.Totals, "period-total/marten-spit/K"), &inventory.PeriodTotal{
			Entry: entry("period-total", "Office"), Measure: inventory.Measure{Volume: 7600, Basis: inventory.Basis15}, Plant: plant,
			FirstDay: march - 28, LastDay: march - 1, Energy: pointer(27400.0)}},
		{byKey(t, rows.Transfers, "transfer/marten-spit/K"), &inventory.Transfer{
			Entry: entry("transfer", operator), Measure: cold(1200), Plant: plant, From: "farm-1", To: "farm-2", At: at, Open: true,
			PlannedStop: pointer(at.Add(2 * time.Hour))}},
		{byKey(t, rows.Draws, "draw/marten-spit/K"), &inventory.Draw{
			Entry: entry("draw", operator), Measure: cold(400), Plant: plant, FirstDay: march, LastDay: march + 1,
			Purpose: inventory.Loan, With: "School"}},
		{byKey(t, rows.CountCorrections, "count-correction/marten-spit/K"), &inventory.CountCorrection{
			Entry: entry("count-correction", "Office"), Measure: inventory.Measure{Volume: -310, Basis: inventory.Basis15}, Plant: plant,
			Product: "diesel-1-s15", Day: march - 1}},
		{byKey(t, rows.ProductChanges, "product-change/marten-spit/K"), &inventory.ProductChange{
			Entry: entry("product-change", operator), Plant: plant, Tank: "farm-3", At: at, Product: "diesel-arctic"}},
		{byKey(t, rows.LoadChanges, "load-change/marten-spit/K"), &inventory.LoadChange{
			Entry: entry("load-change", "Office"), Plant: plant, From: march + 61, Until: pointer(march + 214), Added: pointer(units.Kilowatts(35)),
			Uncertainty: pointer(20.0), Cause: inventory.LoadConnected, Note: "Fish plant, summer season."}},
		{byKey(t, rows.DegreeDays, "degree-days/marten-spit/K"), &inventory.DegreeDays{
			Entry: entry("degree-days", "Office"), Group: "kestrel-sound", FirstDay: march - 28, LastDay: march - 1, Sum: 728.5, Under: 18}},
		{byKey(t, rows.Confirmations, "confirmation/marten-spit/K"), &inventory.Confirmation{
			Entry: confirmed, Plant: plant, Of: inventory.KindReading, Row: "marten-spit/fuel/2026-03-02T17:00Z"}},
		{byKey(t, rows.Rounds, "round/marten-spit/K"), &inventory.Round{
			Entry: entry("round", operator), Plant: plant, At: at, Bowl: inventory.BowlClear, Alarms: []inventory.Alarm{inventory.AlarmLow},
			PumpRunning: pointer(false), RunningHours: pointer(40512.5), EnergyRegister: pointer(2914800.0), Note: "Float of the day tank sticks."}},
		{byKey(t, rows.Deliveries, "delivery/marten-spit/K/farm-2"), &inventory.Delivery{
			Entry: farm2, Plant: plant, Tank: "farm-2", At: at, Document: "BOL 4711", Product: "diesel-1-s15",
			Measure:       inventory.Measure{Volume: 5000, Temperature: pointer(units.Celsius(-2)), Basis: inventory.BasisObserved},
			PricePerLitre: pointer(1.62), Currency: "CAD"}},
	} {
		if diff := cmp.Diff(tt.want, tt.got); diff != "" {
			t.Error(diff)
		}
	}
	first := byKey(t, rows.Deliveries, "delivery/marten-spit/K/farm-1") // 45 000 hundredths are 450
	if *first.Freight != 450 || *first.ByDocument.Volume != 9130 || *first.ByMeter.Volume != 9010 {
		t.Errorf("%+v", first)
	}
	if g := byKey(t, rows.Gaugings, "delivery/marten-spit/K/farm-2/after"); *g.Depth != 2230 || !g.At.Equal(at.Add(30*time.Minute)) {
		t.Errorf("%+v", g)
	}
}

func TestARowThatIsWrongIsRefusedWithItsPlace(t *testing.T) {
	const at = `"at":"2026-03-02T21:00:00Z"`
	tests := []struct {
		name, report, body string
		places             string // pointers, set apart by blanks
	}{
		{"an unknown meter", "meter-readings", `{` + at + `,"meter":"steam","register_counts":1}`, "/meter"},
		{"a register below zero", "meter-readings", `{` + at + `,"meter":"fuel","register_counts":-1}`, "/register_counts"},
		{"a name that nobody knows", "meter-readings", `{` + at + `,"meter":"fuel","register_counts":1,"unit":"L"}`, "/unit"},
		{"a swap beyond all counters", "meter-swaps", `{` + at + `,"meter":"fuel","closing_counts":1e13,"opening_counts":1e14}`, "/closing_counts /opening_counts"},
		{"a proving to come", "meter-provings", `{"at":"2026-03-05T21:00:00Z","meter":"fuel","factor":1}`, "/at"},
		{"a factor of nothing", "meter-provings", `{` + at + `,"meter":"fuel","factor":0}`, "/factor"},
		{"days out of order", "period-totals", `{"first_day":"2026-02-28","last_day":"2026-02-01","volume_l":5}`, "/first_day"},
		{"energy below nothing", "period-totals", `{"first_day":"2026-02-01","last_day":"2026-02-28","volume_l":5,"energy_kwh":-1}`, "/energy_kwh"},
		{"unknown tanks", "transfers", `{` + at + `,"from_tank":"x","to_tank":"y","volume_l":5}`, "/from_tank /to_tank"},
		{"a transfer that is over, of nothing", "transfers", `{` + at + `,"from_tank":"farm-1","to_tank":"farm-2"}`, "/volume_l"},
		{"a stop in the past of the beginning", "transfers", `{` + at + `,"from_tank":"farm-1","to_tank":"farm-2","open":true,"planned_stop":"2026-03-01T00:00:00Z"}`, "/planned_stop"},
		{"a draw of less than nothing, too hot", "draws", `{"first_day":"2026-03-01","last_day":"2026-03-01","volume_l":-5,"temperature_c":400,"purpose":"heat"}`, "/volume_l /temperature_c"},
		{"a draw for pleasure", "draws", `{"first_day":"2026-03-01","last_day":"2026-03-01","volume_l":5,"purpose":"pleasure"}`, "/purpose"},
		{"a draw of days to come", "draws", `{"first_day":"2026-03-01","last_day":"2026-04-01","volume_l":5,"purpose":"heat"}`, "/last_day"},
		{"a correction of nothing, of peat", "count-corrections", `{"day":"2026-03-01","product":"peat","volume_l":0}`, "/product /volume_l"},
		{"peat in no tank", "product-changes", `{` + at + `,"tank":"x","product":"peat"}`, "/tank /product"},
		{"a change of load that is none", "load-changes", `{"from":"2026-05-01","until":"2026-05-01","times":1,"cause":"wind"}`, "/until /times"},
		{"a change of load of two kinds", "load-changes", `{"from":"2026-05-01","times":1.1,"added_kw":1e6,"uncertainty_percent":20,"cause":"wind"}`, "/times"},
		{"a change of load by whim", "load-changes", `{"from":"2026-05-01","times":1.1,"uncertainty_percent":120,"cause":"whim"}`, "/cause /uncertainty_percent"},
		{"degree days to come, in kelvin", "degree-days", `{"first_day":"2026-03-01","last_day":"2026-04-01","degree_days_c":400,"base_c":291}`, "/last_day /base_c"},
		{"more cold than there is", "degree-days", `{"first_day":"2026-03-01","last_day":"2026-03-01","degree_days_c":90,"base_c":18}`, "/degree_days_c"},
		{"a correction by nobody", "draws", `{"first_day":"2026-03-01","last_day":"2026-03-01","volume_l":5,"purpose":"heat","replaces":"k"}`, "/who /why"},
		{"a confirmation of no row", "confirmations", `{"who":"A","why":"B","kind":"draw","row":"nothing"}`, "/row"},
		{"a confirmation of an order", "confirmations", `{"who":"A","why":"B","kind":"order","row":"nothing"}`, "/kind"},
		{"a withdrawal without a reason", "withdrawals", `{"who":"A","why":"","kind":"draw","row":"nothing"}`, "/why"},
		{"a withdrawal of a plant", "withdrawals", `{"who":"A","why":"B","kind":"plant","row":"marten-spit"}`, "/kind"},
		{"beer in the bowl", "rounds", `{` + at + `,"filter_bowl":"beer"}`, "/filter_bowl"},
		{"an alarm twice", "rounds", `{` + at + `,"alarms":["leak","leak"]}`, "/alarms"},
		{"an alarm of fire", "rounds", `{` + at + `,"alarms":["fire"]}`, "/alarms/0"},
		{"hours below nothing", "rounds", `{` + at + `,"running_hours":-1,"energy_register_kwh":-1}`, "/running_hours /energy_register_kwh"},
		{"figures of a delivery", "deliveries", `{` + at + `,"volume_l":10,"refused_l":0,"price_per_l":-1,"freight_minor":-5,"currency":"Can","by_document":{"volume_l":-1},"by_meter":{"volume_l":1,"temperature_c":400}}`,
			"/by_document/volume_l /by_meter/temperature_c /refused_l /price_per_l /freight_minor /currency"},
		{"a basis of a document", "deliveries", `{` + at + `,"volume_l":10,"by_document":{"volume_l":1,"basis":"60F"}}`, "/by_document/basis"},
		{"parts that are not the whole", "deliveries", `{` + at + `,"volume_l":10,"split":[{"tank":"farm-1","volume_l":5},{"tank":"farm-9","volume_l":15}]}`, "/split /split/1/tank"},
		{"an ullage from no known height", "gaugings", `{` + at + `,"tank":"farm-1","ullage_mm":500}`, "/ullage_mm"},
		{"read by eye", "gaugings", `{` + at + `,"tank":"farm-1","depth_mm":1500,"gauge":"eye"}`, "/gauge"},
		{"dips that cannot be", "deliveries", `{` + at + `,"volume_l":10,"dips":[{"tank":"farm-1","before":{"at":"2026-03-02T20:00:00Z","depth_mm":9000},"after":{"at":"2026-03-02T20:00:00Z","depth_mm":10,"water_mm":20}}]}`,
			"/dips/0/before/depth_mm /dips/0/after/at /dips/0/after/water_mm"},
	}
	w := writing(t)
	before := w.rows(t, "marten-spit")
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var places []string
			for _, e := range w.post("/api/v1/plants/marten-spit/"+tt.report, "K", tt.body).want(t, 422).problem(t).Errors {
				if e.In != "body" || e.Pointer == nil || e.Message == "" {
					t.Fatalf("a place outside the body: %+v", e)
				}
				places = append(places, *e.Pointer)
			}
			if got := strings.Join(places, " "); got != tt.places {
				t.Errorf("places %s, want %s", got, tt.places)
			}
		})
	}
	if got := w.rows(t, "marten-spit"); got != before {
		t.Errorf("%d rows were written", got-before)
	}
}

func TestNullInABodyIsWhatIsLeftOut(t *testing.T) {
	w := writing(t)
	w.post("/api/v1/plants/marten-spit/deliveries", "nulls", `{"at":"2026-03-02T21:00:00Z","volume_l":10,"tank":null,"by_document":null,"by_meter":null,"split":null,
		"dips":[{"tank":"farm-1","before":null,"after":{"at":"2026-03-02T22:00:00Z","depth_mm":1500,"moving":null}}]}`).want(t, 201)
	w.post("/api/v1/plants/marten-spit/rounds", "nulls", `{"at":"2026-03-02T21:00:00Z","meters":null,"tanks":[{"tank":"farm-2","depth_mm":1930,"withdraw":null}],"alarms":null,"confirmed":null}`).want(t, 201)
}

func TestADoubtfulRowIsNamedUntilItIsCorrectedOrConfirmed(t *testing.T) {
	w := open(t)
	const readings, wrong = "/api/v1/plants/marten-spit/meter-readings", `{"at":"2026-03-02T21:00:00Z","meter":"fuel","register_counts":8362}`
	got := w.post(readings, "K", wrong).want(t, 201).told(t)
	if len(got.Doubts) != 1 || len(got.Settled) != 0 {
		t.Fatalf("%+v", got)
	}
	d := got.Doubts[0]
	if d.Kind != "meter reading" || d.Key != "meter-reading/marten-spit/K" || d.Cause != "digit-dropped" || d.Scope != "row" ||
		*d.Found != 8362 || *d.Low > 83620 || *d.High < 83620 || *d.Unit != "counts" || d.Message == "" || d.Subject == "" {
		t.Errorf("%+v", d)
	}
	right := strings.Replace(wrong, "8362}", `83620,"replaces":"meter-reading/marten-spit/K","who":"A. Clerk","why":"a digit was lost"}`, 1)
	got = w.post(readings, "right", right).want(t, 201).told(t)
	if len(got.Doubts) != 0 || len(got.Settled) != 1 || got.Settled[0].Key != d.Key || got.Settled[0].Cause != d.Cause {
		t.Errorf("corrected: %+v", got)
	}
	w.post(readings, "odd", strings.Replace(wrong, "21:00", "23:00", 1)).want(t, 201)
	yes := `{"who":"A. Clerk","why":"read twice","kind":"meter reading","row":"meter-reading/marten-spit/odd"}`
	got = w.post("/api/v1/plants/marten-spit/confirmations", "K", yes).want(t, 201).told(t)
	if len(got.Settled) != 1 || got.Settled[0].Key != "meter-reading/marten-spit/odd" {
		t.Errorf("confirmed: %+v", got)
	}
}

func TestARowThatStandsTwiceIsNoMatterOfAFigure(t *testing.T) {
	w, body := open(t), examples(t)["report-draw"]
	w.post("/api/v1/plants/marten-spit/draws", "1", body).want(t, 201)
	got := w.post("/api/v1/plants/marten-spit/draws", "2", body).want(t, 201).told(t)
	if len(got.Doubts) != 1 || got.Doubts[0].Cause != "duplicate" || got.Doubts[0].Found != nil || got.Doubts[0].Unit != nil {
		t.Errorf("%+v", got)
	}
}

func TestWhoCorrectsSecondIsToldTheRowInForce(t *testing.T) {
	w := open(t)
	const draws = "/api/v1/plants/marten-spit/draws"
	w.post(draws, "first", examples(t)["report-draw"]).want(t, 201)
	again := strings.Replace(examples(t)["report-draw"], "{", `{"replaces":"draw/marten-spit/first","why":"counted again",`, 1)
	w.post(draws, "mine", strings.Replace(again, "400", "410", 1)).want(t, 201)
	withdrawal := `{"who":"A","why":"B","kind":"draw","row":"draw/marten-spit/first"}`
	for place, a := range map[string]answer{
		"/replaces": w.post(draws, "yours", strings.Replace(again, "400", "420", 1)),
		"/row":      w.post("/api/v1/plants/marten-spit/withdrawals", "yours", withdrawal),
	} {
		p := a.want(t, 409).problem(t)
		if len(p.Errors) != 1 || p.Errors[0].Pointer == nil || *p.Errors[0].Pointer != place || !strings.Contains(p.Errors[0].Message, "draw/marten-spit/mine") {
			t.Errorf("%s: %s", place, a.body)
		}
	}
	if d := byKey(t, w.plantRows(t).Draws, "draw/marten-spit/mine"); d.Volume != 410 || d.Why != "counted again" {
		t.Errorf("%+v", d)
	}
}
