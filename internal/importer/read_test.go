package importer

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

func ptr[T any](v T) *T { return &v }

// near compares stored numbers to a part in 10¹², far below what any unit is read to.
var near = cmp.Options{
	approx[float64](), approx[units.Litres](), approx[units.LitresAt15](), approx[units.Millimetres](), approx[units.Celsius](), approx[units.DegreeDays](),
}

func approx[T ~float64]() cmp.Option {
	return cmp.Comparer(func(a, b T) bool {
		return math.Abs(float64(a-b)) <= 1e-12*max(1, math.Abs(float64(a)))
	})
}

// mixed is a folder in the units of several countries.
var mixed = texts{
	"plants.csv": "\ufeffplant,name,zone,product,group,reserve_us_gal,warm_to_f,risk_target,display_volume,fiscal_year_begins,carrying_per_year,fallback_at_days\r\n" +
		"NAK,\"Nakrook, \"\"old\"\" house\",America/Anchorage,diesel-2-s15,bay,10000,77,0.02,us_gal,7,0.08,12\r\n\r\n",
	"tanks.csv": join("plant,tank,role,shape,diameter_in,length_in,product,safe_fill_depth_in,unusable_imp_gal,out_from,back_on",
		"NAK,T1,storage,horizontal,120,300,,110,100,2027-01-05,2027-02-01",
		"NAK,T2,storage,table,,,jet-a1,,,,",
		",,,,,,,,,,"),
	"capacity.csv":       join("plant,tank,depth_ft,volume_bbl", "NAK,T2,0,0", "NAK,T2,10,100"),
	"meters.csv":         join("plant,meter,register_unit,count,digits,factor,compensated", "NAK,M1,us_gal,10,6,0.9985,yes"),
	"meter_readings.csv": join("plant,meter,at,register,temperature_f", "NAK,M1,2026-03-02 08:00:30,123456.5,50"),
	"meter_swaps.csv":    join("plant,meter,at,closing,opening", "NAK,M1,2026-04-02T08:00Z,999999,"),
	"gaugings.csv": join("at,tank,plant,depth_in,water_in,temperature_f,precision_in,volume_m3,key,replaces,who,why",
		"2026-03-02,T1,NAK,40,1,14,0.125,,,,,",
		"2026-07-01,T2,NAK,,,59,,3.5,g2,g1,Ana,\"misread\nthe gauge\""),
	"period_totals.csv": join("plant,first_day,last_day,volume_kl,basis", "NAK,2026-01-01,2026-01-31,40,15C"),
	"deliveries.csv":    join("plant,at,volume_us_gal,temperature_f,basis,document", "NAK,2026-06-20T10:00,5000,68,observed,BOL 7"),
	"transfers.csv":     join("plant,from_tank,to_tank,at,volume_l,temperature_c", "NAK,T1,T2,2026-06-20T11:00-08:00,700,5"),
	"draws.csv":         join("plant,first_day,last_day,volume_imp_gal,purpose,basis", "NAK,2026-01-01,2026-01-31,1000,heat,15C"),
	"orders.csv": join("plant,order,state,ordered_on,early,likely,late,volume_m3,basis,route",
		"NAK,PO/1,committed,2026-09-01,2027-06-01,2027-06-10,2027-07-01,60,15C,river"),
	"clearances.csv": join("plant,order,clearance,last_safe_on,takes_days,cleared_on,by,note",
		"NAK,PO/1,credit,2027-04-01,,2026-09-20,Savings bank,", "NAK,PO/1,landing permit,,21,,,ask early"),
	"routes.csv": join("route,mode,lead_days,lead_sd_days,slip_days,lot_min_us_gal,lot_max_us_gal,lot_step_us_gal,price_per_us_gal,currency,supplier,fallback,load_imp_gal,stop_cost,freight_per_imp_gal,price_growth_per_year,price_sd_per_year,deliveries,days_between,pay_from,pay_days",
		"river,barge,30,4,5,1000,20000,500,4.5,USD,River Fuel,no,,2500,0.5,-0.02,0.3,2,21,order,45",
		"air,air,3,,,,,,9,USD,,yes,300,150,,,,,,,"),
	"services.csv": join("route,plant", "river,NAK", "air,NAK"),
	"windows.csv": join("route,window,opens,closes,opens_sd_days,closes_sd_days,fail_chance,order_by,cut_off,year,opens_lag_days,opens_lag_sd_days,closes_lag_days",
		"river,summer,06-05,09-25,7,10,0.05,04-15,09-30,,14,4,-10", "river,summer,05-28,09-25,3,10,,,,2027,,,"),
	"window_limits.csv": join("route,window,from,until,lot_max_us_gal,cause,note",
		"river,summer,08-20,09-30,8000,draft,the river falls", "river,summer,12-24,01-06,100,other,"),
	"spending_limits.csv": join("plant,name,kind,from,until,amount,currency,volume_us_gal",
		"NAK,bank,loan,2026-10-01,2027-06-30,150000.5,USD,", "NAK,depot,supplier,2027-01-01,2027-12-31,,,40000"),
	"past_windows.csv": join("route,window,year,opens,closes,failed",
		"river,summer,2025,2025-05-24,2025-10-02,", "river,summer,2024,,,yes", "river,summer,2023,2023-06-01,,no"),
	"load_changes.csv": join("plant,from,until,times,added_kw,uncertainty_percent,cause,note",
		"NAK,2027-05-01,2027-10-01,,35.5,20,load-connected,cannery", "NAK,2026-09-01,,0.85,,,wind,"),
	"degree_days.csv": join("group,first_day,last_day,degree_days_f,base_f", "bay,2026-01-01,2026-01-31,1800,65", "bay,2026-02-01,2026-02-01,0,65"),
}

// mixedRows are the rows of that folder in stored units, worked by hand from the definitions: 1 in =
// 25.4 mm, 1 US gal = 3.785411784 L, 1 imp gal = 4.54609 L, 1 bbl = 42 US gal, °C = (°F − 32)/1.8,
// Anchorage 9 hours behind UTC in winter and 8 in summer.
func mixedRows() inventory.Rows {
	key := func(k string) inventory.Entry { return inventory.Entry{Key: k} }
	return inventory.Rows{
		Plants: []*inventory.Plant{{
			Entry: key("NAK"), ID: "NAK", Name: `Nakrook, "old" house`, Group: "bay", Zone: "America/Anchorage",
			Product: "diesel-2-s15", ReserveLitres: ptr(units.LitresAt15(37854.11784)), RiskTarget: ptr(0.02),
			WarmTo: ptr(units.Celsius(25)), Display: inventory.Display{Volume: "us_gal"}, FiscalYearBegins: time.July,
			Carrying: ptr(0.08), FallbackAtDays: ptr(12),
		}},
		Tanks: []*inventory.Tank{{
			Entry: key("NAK/T1"), Plant: "NAK", ID: "T1", Role: inventory.Storage, Product: "diesel-2-s15", Shape: inventory.ShapeHorizontal,
			Diameter: ptr(units.Millimetres(3048)), Length: ptr(units.Millimetres(7620)),
			SafeFillDepth: ptr(units.Millimetres(2794)), UnusableVolume: ptr(units.Litres(454.609)),
			OutFrom: ptr(calendar.Date(2027, time.January, 5)), BackOn: ptr(calendar.Date(2027, time.February, 1)),
		}, {
			Entry: key("NAK/T2"), Plant: "NAK", ID: "T2", Role: inventory.Storage, Product: "jet-a1", Shape: inventory.ShapeTable,
			Table: []tanks.Point{{}, {Depth: 3048, Volume: 15898.7294928}},
		}},
		Meters: []*inventory.Meter{{
			Entry: key("NAK/M1"), Plant: "NAK", ID: "M1", Digits: 6, LitresPerCount: 37.85411784, Factor: 0.9985, Compensated: true,
		}},
		Readings: []*inventory.MeterReading{{
			Entry: key("NAK/M1/2026-03-02T17:00:30Z"), Plant: "NAK", Meter: "M1", At: time.Date(2026, 3, 2, 17, 0, 30, 0, time.UTC),
			Register: 123456.5, Temperature: ptr(units.Celsius(10)),
		}},
		Swaps: []*inventory.MeterSwap{{
			Entry: key("NAK/M1/2026-04-02T08:00:00Z"), Plant: "NAK", Meter: "M1", At: time.Date(2026, 4, 2, 8, 0, 0, 0, time.UTC),
			Closing: ptr(999999.0),
		}},
		Gaugings: []*inventory.Gauging{{
			Entry: key("NAK/T1/2026-03-02T21:00:00Z"), Plant: "NAK", Tank: "T1", At: time.Date(2026, 3, 2, 21, 0, 0, 0, time.UTC),
			Depth: ptr(units.Millimetres(1016)), Water: ptr(units.Millimetres(25.4)), Temperature: ptr(units.Celsius(-10)), Precision: 3.175,
		}, {
			Entry: inventory.Entry{Key: "g2", Replaces: "g1", Who: "Ana", Why: "misread\nthe gauge"},
			Plant: "NAK", Tank: "T2", At: time.Date(2026, 7, 1, 20, 0, 0, 0, time.UTC), Volume: ptr(units.Litres(3500)), Temperature: ptr(units.Celsius(15)),
		}},
		Totals: []*inventory.PeriodTotal{{
			Entry: key("NAK/2026-01-01/2026-01-31"), Plant: "NAK", Measure: inventory.Measure{Volume: 40000, Basis: inventory.Basis15},
			FirstDay: calendar.Date(2026, time.January, 1), LastDay: calendar.Date(2026, time.January, 31),
		}},
		Deliveries: []*inventory.Delivery{{
			Entry: key("NAK/2026-06-20T18:00:00Z///BOL 7"), Plant: "NAK", At: time.Date(2026, 6, 20, 18, 0, 0, 0, time.UTC), Document: "BOL 7",
			Measure: inventory.Measure{Volume: 18927.05892, Temperature: ptr(units.Celsius(20)), Basis: inventory.BasisObserved},
		}},
		Transfers: []*inventory.Transfer{{
			Entry: key("NAK/T1/T2/2026-06-20T19:00:00Z"), Plant: "NAK", From: "T1", To: "T2", At: time.Date(2026, 6, 20, 19, 0, 0, 0, time.UTC),
			Measure: inventory.Measure{Volume: 700, Temperature: ptr(units.Celsius(5))},
		}},
		Draws: []*inventory.Draw{{
			Entry: key("NAK/heat/2026-01-01/2026-01-31"), Plant: "NAK", Purpose: inventory.Heat,
			Measure:  inventory.Measure{Volume: 4546.09, Basis: inventory.Basis15},
			FirstDay: calendar.Date(2026, time.January, 1), LastDay: calendar.Date(2026, time.January, 31),
		}},
		Orders: []*inventory.Order{{
			Entry: key("NAK/PO%2F1"), Plant: "NAK", ID: "PO/1", Route: "river", State: inventory.Committed,
			Measure:   inventory.Measure{Volume: 60000, Basis: inventory.Basis15},
			OrderedOn: calendar.Date(2026, time.September, 1), Early: calendar.Date(2027, time.June, 1),
			Likely: calendar.Date(2027, time.June, 10), Late: calendar.Date(2027, time.July, 1),
		}},
		Clearances: []*inventory.Clearance{{
			Entry: key("NAK/PO%2F1/credit"), Plant: "NAK", Order: "PO/1", Name: "credit", LastSafeOn: ptr(calendar.Date(2027, time.April, 1)),
			ClearedOn: ptr(calendar.Date(2026, time.September, 20)), By: "Savings bank",
		}, {
			Entry: key("NAK/PO%2F1/landing permit"), Plant: "NAK", Order: "PO/1", Name: "landing permit", TakesDays: ptr(21), Note: "ask early",
		}},
		Routes: []*inventory.Route{{
			Entry: key("river"), ID: "river", Mode: inventory.Barge, Supplier: "River Fuel", LeadDays: 30, LeadSDDays: 4, SlipDays: 5,
			LotMin: 3785.411784, LotMax: 75708.23568, LotStep: 1892.705892, PricePerLitre: 4.5 / 3.785411784, Currency: "USD",
			StopCost: 2500, FreightPerLitre: 0.5 / 4.54609, PriceGrowth: -0.02, PriceSD: 0.3, Deliveries: 2, DaysBetween: 21, PayFrom: inventory.PayFromOrder, PayDays: 45,
		}, {
			Entry: key("air"), ID: "air", Mode: inventory.Air, Fallback: true, LeadDays: 3,
			PricePerLitre: 9 / 3.785411784, Currency: "USD", Load: 1363.827, StopCost: 150,
		}},
		Services: []*inventory.Service{
			{Entry: key("river/NAK"), Route: "river", Plant: "NAK"}, {Entry: key("air/NAK"), Route: "air", Plant: "NAK"},
		},
		Windows: []*inventory.Window{{
			Entry: key("river/summer"), Route: "river", Name: "summer", Opens: inventory.MonthDay{Month: 6, Day: 5}, OpensSDDays: 7,
			Closes: inventory.MonthDay{Month: 9, Day: 25}, ClosesSDDays: 10, FailChance: 0.05, OrderBy: &inventory.MonthDay{Month: 4, Day: 15},
			CutOff:       &inventory.MonthDay{Month: 9, Day: 30},
			OpensLagDays: 14, OpensLagSDDays: 4, ClosesLagDays: -10,
		}, {
			Entry: key("river/summer/2027"), Route: "river", Name: "summer", Year: 2027, Opens: inventory.MonthDay{Month: 5, Day: 28}, OpensSDDays: 3,
			Closes: inventory.MonthDay{Month: 9, Day: 25}, ClosesSDDays: 10,
		}},
		PastWindows: []*inventory.PastWindow{
			{Entry: key("river/summer/2025"), Route: "river", Name: "summer", Year: 2025,
				Opens: ptr(calendar.Date(2025, time.May, 24)), Closes: ptr(calendar.Date(2025, time.October, 2))},
			{Entry: key("river/summer/2024"), Route: "river", Name: "summer", Year: 2024, Failed: true},
			{Entry: key("river/summer/2023"), Route: "river", Name: "summer", Year: 2023, Opens: ptr(calendar.Date(2023, time.June, 1))},
		},
		WindowLimits: []*inventory.WindowLimit{{
			Entry: key("river/summer/08-20/draft"), Route: "river", Name: "summer", From: inventory.MonthDay{Month: 8, Day: 20},
			Until: inventory.MonthDay{Month: 9, Day: 30}, LotMax: 30283.294272, Cause: inventory.LimitDraft, Note: "the river falls",
		}, {
			Entry: key("river/summer/12-24/other"), Route: "river", Name: "summer", From: inventory.MonthDay{Month: 12, Day: 24},
			Until: inventory.MonthDay{Month: 1, Day: 6}, LotMax: 378.5411784, Cause: inventory.LimitOther,
		}},
		SpendingLimits: []*inventory.SpendingLimit{{
			Entry: key("NAK/bank/2026-10-01"), Plant: "NAK", Name: "bank", Of: inventory.SpendingLoan, From: calendar.Date(2026, time.October, 1),
			Until: calendar.Date(2027, time.June, 30), Amount: ptr(150000.5), Currency: "USD",
		}, {
			Entry: key("NAK/depot/2027-01-01"), Plant: "NAK", Name: "depot", Of: inventory.SpendingSupplier, From: calendar.Date(2027, time.January, 1),
			Until: calendar.Date(2027, time.December, 31), Volume: ptr(units.LitresAt15(151416.47136)),
		}},
		LoadChanges: []*inventory.LoadChange{{
			Entry: key("NAK/2027-05-01/load-connected"), Plant: "NAK", From: calendar.Date(2027, time.May, 1), Until: ptr(calendar.Date(2027, time.October, 1)),
			Added: ptr(units.Kilowatts(35.5)), Uncertainty: ptr(20.0), Cause: inventory.LoadConnected, Note: "cannery",
		}, {
			Entry: key("NAK/2026-09-01/wind"), Plant: "NAK", From: calendar.Date(2026, time.September, 1), Times: ptr(0.85), Cause: inventory.LoadWind,
		}},
		DegreeDays: []*inventory.DegreeDays{{ // 1800 °F·d are 1000 °C·d, and 65 °F are 33/1.8 °C
			Entry: key("bay/2026-01-01/2026-01-31"), Group: "bay", FirstDay: calendar.Date(2026, time.January, 1), LastDay: calendar.Date(2026, time.January, 31),
			Sum: 1000, Under: 33 / 1.8,
		}, {
			Entry: key("bay/2026-02-01/2026-02-01"), Group: "bay", FirstDay: calendar.Date(2026, time.February, 1), LastDay: calendar.Date(2026, time.February, 1),
			Under: 33 / 1.8,
		}},
	}
}

func TestAFolderInMixedUnitsComesOutInStoredUnits(t *testing.T) {
	got := read(t, mixed)
	if diff := cmp.Diff(mixedRows(), got.Rows, near); diff != "" {
		t.Error(diff)
	}
	if got.Notices != nil {
		t.Errorf("notices about a sound folder: %v", got.Notices)
	}
	counts := map[string]int{}
	for _, f := range got.Files {
		counts[f.Name] = f.Rows
	}
	for name, want := range map[string]int{"plants.csv": 1, "tanks.csv": 2, "capacity.csv": 2, "windows.csv": 2} {
		if counts[name] != want || len(got.Files) != len(mixed) {
			t.Errorf("%s: %d rows, want %d", name, counts[name], want)
		}
	}
}

func TestTheSameFolderInUSAndMetricUnitsGivesTheSameRows(t *testing.T) {
	us := texts{
		"plants.csv":     "plant,name,zone,product,reserve_us_gal,assumed_temperature_f\nNAK,Nakrook,America/Anchorage,diesel-2-s15,5000,41\n",
		"tanks.csv":      "plant,tank,role,shape,diameter_ft,length_ft,safe_fill_us_gal\nNAK,T1,storage,horizontal,10,25,13000\n",
		"routes.csv":     "route,mode,lead_days,lot_max_us_gal,price_per_us_gal,currency\nriver,barge,30,20000,4.5,USD\n",
		"gaugings.csv":   "plant,tank,at,depth_in,temperature_f\nNAK,T1,2026-03-02T08:00,40.5,14\n",
		"deliveries.csv": "plant,at,volume_us_gal,temperature_f\nNAK,2026-06-20T10:00,5000,68\n",
	}
	metric := texts{
		"plants.csv":     "plant,name,zone,product,reserve_m3,assumed_temperature_c\nNAK,Nakrook,America/Anchorage,diesel-2-s15,18.92705892,5\n",
		"tanks.csv":      "plant,tank,role,shape,diameter_m,length_cm,safe_fill_kl\nNAK,T1,storage,horizontal,3.048,762,49.210353192\n",
		"routes.csv":     "route,mode,lead_days,lot_max_l,price_per_m3,currency\nriver,barge,30,75708.23568,1188.774235611668,USD\n",
		"gaugings.csv":   "plant,tank,at,depth_mm,temperature_c\nNAK,T1,2026-03-02T17:00:00Z,1028.7,-10\n",
		"deliveries.csv": "plant,at,volume_l,temperature_c\nNAK,2026-06-20T10:00:00-08:00,18927.05892,20\n",
	}
	if diff := cmp.Diff(read(t, us).Rows, read(t, metric).Rows, near); diff != "" {
		t.Error(diff)
	}
	read := read(t, us).Rows
	if got := read.Routes[0].PricePerLitre * units.LitresPerUSGallon; math.Abs(got-4.5) > 1e-12 {
		t.Errorf("4.5 USD a US gallon comes out as %v", got)
	}
}

func TestARowEnteredTwiceIsOneRowWithANotice(t *testing.T) {
	got := read(t, small().with(texts{"gaugings.csv": "plant,tank,at,depth_mm,temperature_c,who\nNAK,T1,2026-03-02,100,4,Ana\nNAK,T1,2026-03-02T12:00-09:00,100,4,Bo\n"}))
	if len(got.Rows.Gaugings) != 1 || got.Rows.Gaugings[0].Who != "Ana" {
		t.Errorf("%d gaugings", len(got.Rows.Gaugings))
	}
	want := notice.List{notice.New(notice.Caution, CodeRowRepeated, "gaugings.csv",
		"the row repeats row 2 and counts once: if both happened, give each a key of its own (gaugings.csv row 3)")}
	if diff := cmp.Diff(want, got.Notices); diff != "" {
		t.Error(diff)
	}
}

func TestDoubtfulValuesAreKeptWithANotice(t *testing.T) {
	folder := small().with(texts{
		"gaugings.csv":       "plant,tank,at,depth_mm,temperature_f\nNAK,T1,2025-11-02T01:30,100,140\nNAK,D1,2026-03-02,100,\nNAK,D1,2026-03-03,100,\n",
		"deliveries.csv":     "plant,at,volume_l,basis\nNAK,2026-06-01,9000,15C\n",
		"period_totals.csv":  "plant,first_day,last_day,volume_l,basis\nNAK,2026-01-01,2026-01-31,-5,15C\n",
		"meter_readings.csv": "plant,meter,at,register\nNAK,M1,2026-03-03,900\nNAK,M1,2026-03-02,1000\n",
	})
	got := read(t, folder)
	want := notice.List{
		{Severity: notice.Info, Code: CodeTimeTwice, Subject: "plant NAK", Count: 1,
			Message: "2025-11-02T01:30 exists twice there, since the clocks go back: taken as the first; write an offset to say otherwise (gaugings.csv row 2)"},
		{Severity: notice.Caution, Code: inventory.CodeTemperatureOdd, Subject: "plant NAK, tank T1", Count: 1,
			Message: "60 °C is outside the usual -50 to 50 °C: check the sign and the unit (gaugings.csv row 2)"},
		{Severity: notice.Caution, Code: inventory.CodeBasisUnknown, Subject: "plant NAK, tank D1", Count: 2,
			Message: "a volume without its temperature: basis unknown, taken as at 5 °C (gaugings.csv row 3)"},
		{Severity: notice.Caution, Code: inventory.CodeTotalNotPositive, Subject: "plant NAK, period totals", Count: 1,
			Message: "-5 L from 2026-01-01 to 2026-01-31: kept, and never fitted (period_totals.csv row 2)"},
		// π/4 · (1.2² · 4 + 0.6² · 1) m³ = 4.807 m³
		{Severity: notice.Caution, Code: inventory.CodeDeliveryTooLarge, Subject: "plant NAK, deliveries", Count: 1,
			Message: "9 000 L is more than the 4 806.637 L that the plant's tanks can hold: check the volume and its unit (deliveries.csv row 2)"},
		{Severity: notice.Caution, Code: inventory.CodeMeterBackward, Subject: "plant NAK, meter M1", Count: 1,
			Message: "the register fell from 1 000 to 900 between 2026-03-02 12:00 and 2026-03-03 12:00, with no swap between: check both readings, or enter the swap"},
	}
	if diff := cmp.Diff(want, got.Notices); diff != "" {
		t.Error(diff)
	}
	if n := got.Rows.Len(); n != 14 {
		t.Errorf("%d rows, want 14", n)
	}
}

func TestARowThatIsCorrectedRaisesNoDoubts(t *testing.T) {
	got := read(t, small().with(texts{"gaugings.csv": "plant,tank,at,depth_mm,temperature_c,key,replaces\n" +
		"NAK,T1,2026-03-02,100,60,a,\nNAK,T1,2026-03-02,100,6,b,a\n"}))
	if len(got.Rows.Gaugings) != 2 || got.Notices != nil {
		t.Errorf("%d gaugings, notices %v", len(got.Rows.Gaugings), got.Notices)
	}
}
