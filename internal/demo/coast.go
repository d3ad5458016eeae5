package demo

import (
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// Seasons on the log rate. That of the coast makes midwinter about one and a half times midsummer, as the
// median plant of the rate-support reports has it; that of the fishing port peaks in July.
var (
	winterPeak = []wave{{1, 0.20, 15}, {2, 0.02, 25}}
	fishPeak   = []wave{{1, 0.15, 15}, {1, 0.30, 192}, {2, 0.18, 192}, {3, 0.06, 192}}
)

var coastClimate = climate{meanC: 2, swingC: 10, warmestDay: 212, indoorsC: 17}

// coastPlant makes a plant of the coast with what most of them share.
func coastPlant(id, name string, gallons, noise float64) plantSpec {
	return plantSpec{
		plant: inventory.Plant{
			ID: id, Name: name, Group: "kestrel-sound", Zone: "America/Anchorage", Product: "diesel-1-s15",
			AssumedTemperature: new(units.Celsius(2)), WarmTo: new(units.Celsius(18)),
			Display:          inventory.Display{Volume: "us_gal", Depth: "in", Temperature: "f"},
			FiscalYearBegins: time.July, Carrying: new(coastCarrying), FallbackAtDays: new(14),
		},
		climate: coastClimate,
		burn:    law{litresPerYear: gallons * gal, season: winterPeak, noiseSD: noise, rho: 0.65},
		habits:  habits{roundHour: 8, imperial: true, dips: weekly, splitByTank: true},
		calls:   bargeCalls("kestrel-barge", 8),
		opening: 0.55,
		airL15:  4500 * gal,
	}
}

// bargeCalls are two visits a year, the later the further a plant stands down the sailing order.
func bargeCalls(route string, afterDays float64) []call {
	return []call{
		{route: route, window: "early-summer", afterDays: afterDays, spreadDays: 3, arrivesC: 9},
		{route: route, window: "autumn", afterDays: afterDays, spreadDays: 3, arrivesC: 13},
	}
}

func gallonMeter(digits int, opening float64) *meterSpec {
	return &meterSpec{inventory.Meter{ID: "fuel", LitresPerCount: gal, Digits: digits}, opening}
}

func coastPlants() []plantSpec {
	all := []plantSpec{
		martenSpit(), ternLanding(), alderSlough(), capeOrrin(), stillwaterBend(),
		northgate(), graylingMouth(), ploverBight(), soundHarbor(),
	}
	for _, p := range all {
		for _, t := range p.tanks {
			if t.Role == inventory.DayTank {
				float(t)
			}
		}
	}
	return all
}

func martenSpit() plantSpec {
	p := coastPlant("marten-spit", "Marten Spit", 28000, 0.13)
	p.tanks = []*inventory.Tank{
		lying("farm-1", inventory.Storage, 12000*gal, 2743),
		lying("farm-2", inventory.Storage, 12000*gal, 2743),
		lying("farm-3", inventory.Storage, 12000*gal, 2743),
		box("day", inventory.DayTank, 150*gal, 1000, 750),
	}
	p.meter = gallonMeter(0, 12345)
	p.airL15 = 1200 * gal
	p.events = []event{
		{day: date(2025, time.December, 28), kind: handFill, litres: 15 * gal},
		{day: date(2025, time.December, 29), kind: handFill, litres: 12 * gal},
		{day: date(2026, time.January, 20), kind: pumpDown, litres: 25 * gal},
	}
	return p
}

func ternLanding() plantSpec {
	p := coastPlant("tern-landing", "Tern Landing", 46000, 0.12)
	p.tanks = []*inventory.Tank{
		lying("farm-1", inventory.Storage, 24000*gal, 3048),
		lying("farm-2", inventory.Storage, 24000*gal, 3048),
		lying("farm-3", inventory.Storage, 18000*gal, 2743),
		lying("middle", inventory.Intermediate, 3000*gal, 1830),
		box("day", inventory.DayTank, 200*gal, 1000, 900),
	}
	p.meter = gallonMeter(6, 318204)
	p.meter.row.Factor = 1.004
	p.draws = []drawSpec{{inventory.Heat, 9000 * gal, []wave{{1, 0.75, 20}}}}
	p.events = []event{
		{day: date(2024, time.November, 14), kind: meterSwap, litres: 17},
		{day: date(2025, time.January, 20), kind: lend, litres: 300 * gal},
	}
	return p
}

func alderSlough() plantSpec {
	p := coastPlant("alder-slough", "Alder Slough", 62000, 0.13)
	p.tanks = []*inventory.Tank{
		standing("farm-1", inventory.Storage, 30000*gal, 6000),
		standing("farm-2", inventory.Storage, 30000*gal, 6000),
		lying("farm-3", inventory.Storage, 12000*gal, 2743),
		lying("farm-4", inventory.Storage, 12000*gal, 2743),
		box("day", inventory.DayTank, 250*gal, 1100, 1000),
	}
	p.habits.monthly = true
	p.calls = bargeCalls("slough-barge", 6)
	p.events = []event{{day: date(2024, time.December, 31), kind: countCorrection}}
	return p
}

func capeOrrin() plantSpec {
	p := coastPlant("cape-orrin", "Cape Orrin", 84000, 0.12)
	p.calls = bargeCalls("kestrel-barge", 3)
	p.tanks = []*inventory.Tank{
		lying("farm-1", inventory.Storage, 27000*gal, 3048),
		lying("farm-2", inventory.Storage, 27000*gal, 3048),
		lying("farm-3", inventory.Storage, 27000*gal, 3048),
		lying("middle", inventory.Intermediate, 4000*gal, 1830),
		box("day", inventory.DayTank, 300*gal, 1200, 1000),
	}
	p.meter = gallonMeter(7, 1204877)
	p.events = []event{
		{day: date(2024, time.October, 9), kind: digitSlip},
		// Shallow water: both barges of 2025 came light.
		{day: date(2025, time.May, 1), kind: lightDelivery, carry: date(2025, time.November, 1)},
		{day: date(2025, time.August, 5), kind: lightDelivery, carry: date(2026, time.May, 5)},
	}
	return p
}

func stillwaterBend() plantSpec {
	p := coastPlant("stillwater-bend", "Stillwater Bend", 118000, 0.11)
	old := lying("farm-1", inventory.Storage, 20000*gal, 3048)
	old.OutFrom, old.BackOn = new(date(2025, time.July, 1)), new(date(2026, time.August, 1))
	p.tanks = []*inventory.Tank{
		old,
		standing("farm-2", inventory.Storage, 63000*gal, 7300),
		standing("farm-3", inventory.Storage, 63000*gal, 7300),
		lying("middle", inventory.Intermediate, 5000*gal, 2134),
		box("day", inventory.DayTank, 400*gal, 1400, 1000),
	}
	p.meter = gallonMeter(7, 88410)
	p.events = []event{
		{day: date(2025, time.May, 1), kind: leaveEmpty, tank: "farm-1"},
		{day: date(2025, time.October, 22), kind: correctedSlip},
	}
	p.orders = []*inventory.Order{{
		ID: "stillwater-bend-extra", Route: "kestrel-barge", State: inventory.Cancelled,
		Measure:   inventory.Measure{Volume: 30000 * gal},
		OrderedOn: date(2025, time.August, 1), Early: date(2025, time.September, 5), Likely: date(2025, time.September, 12), Late: date(2025, time.September, 26),
	}}
	return p
}

func northgate() plantSpec {
	p := coastPlant("northgate", "Northgate", 165000, 0.11)
	p.plant.ReserveDays = new(14)
	p.calls = bargeCalls("kestrel-barge", 4)
	p.tanks = []*inventory.Tank{
		standing("farm-1", inventory.Storage, 84000*gal, 7300),
		standing("farm-2", inventory.Storage, 84000*gal, 7300),
		standing("middle", inventory.Intermediate, 6000*gal, 3600),
		standing("day", inventory.DayTank, 500*gal, 1500),
	}
	p.meter = gallonMeter(6, 760000) // rolls over in the second or third year
	p.orders = []*inventory.Order{{
		ID: "northgate-early-summer-2026", Route: "kestrel-barge", State: inventory.Ordered,
		Measure:   inventory.Measure{Volume: 100000 * gal},
		OrderedOn: date(2026, time.February, 10), Early: date(2026, time.June, 7), Likely: date(2026, time.June, 17), Late: date(2026, time.July, 1),
	}}
	return p
}

func graylingMouth() plantSpec {
	p := coastPlant("grayling-mouth", "Grayling Mouth", 310000, 0.14)
	p.burn.season = fishPeak
	p.tanks = []*inventory.Tank{
		strapped("farm-1", inventory.Storage, 110000*gal, 9000),
		strapped("farm-2", inventory.Storage, 110000*gal, 9000),
		strapped("farm-3", inventory.Storage, 110000*gal, 9000),
		standing("middle", inventory.Intermediate, 10000*gal, 3600),
		volumeOnly("day", inventory.DayTank, 1000*gal),
	}
	p.meter = gallonMeter(8, 4410233)
	p.habits.noGapsInside = true
	p.events = []event{{day: date(2024, time.August, 20), kind: misreadDip}}
	return p
}

func ploverBight() plantSpec {
	p := coastPlant("plover-bight", "Plover Bight", 52000, 0.13)
	p.tanks = []*inventory.Tank{
		lying("farm-1", inventory.Storage, 20000*gal, 3048),
		lying("farm-2", inventory.Storage, 20000*gal, 3048),
		lying("farm-3", inventory.Storage, 20000*gal, 3048),
		box("day", inventory.DayTank, 200*gal, 1000, 900),
	}
	p.meter = gallonMeter(7, 640112)
	p.habits.silentAfter = date(2026, time.January, 18)
	return p
}

func soundHarbor() plantSpec {
	p := coastPlant("sound-harbor", "Sound Harbor", 720000, 0.10)
	p.plant.ReserveLitres = new(units.LitresAt15(400000))
	p.tanks = []*inventory.Tank{
		strapped("farm-1", inventory.Storage, 350000*gal, 12000),
		strapped("farm-2", inventory.Storage, 350000*gal, 12000),
		strapped("farm-3", inventory.Storage, 350000*gal, 12000),
		standing("middle", inventory.Intermediate, 20000*gal, 4800),
		standing("day", inventory.DayTank, 2000*gal, 2400),
	}
	p.meter = &meterSpec{inventory.Meter{ID: "fuel", LitresPerCount: 10, Digits: 7, Compensated: true}, 204411}
	p.habits.noGapsInside, p.habits.gaugeSDMM = true, 2
	p.draws = []drawSpec{{inventory.Sale, 60000 * gal, []wave{{1, 0.4, 20}}}}
	p.calls = []call{{route: "harbor-tanker", window: "open-water", afterDays: 6, spreadDays: 3, times: 2, everyDays: 80, arrivesC: 12, separate: true}}
	p.airL15 = 45000 * gal
	proposed := &inventory.Order{
		ID: "sound-harbor-summer-2026", Route: "harbor-tanker", State: inventory.Proposed, StateAt: moment(2026, time.February, 16, 20),
		Measure:   inventory.Measure{Volume: 260000 * gal},
		OrderedOn: date(2026, time.February, 16), OrderBy: new(date(2026, time.April, 1)),
		Early: date(2026, time.May, 20), Likely: date(2026, time.May, 28), Late: date(2026, time.June, 12),
	}
	p.orders = []*inventory.Order{proposed}
	p.clearances = []*inventory.Clearance{
		{Order: proposed.ID, Name: "credit", TakesDays: new(21), By: "lender of the utility"},
		{Order: proposed.ID, Name: "signature", LastSafeOn: new(date(2026, time.March, 27)), ClearedOn: new(date(2026, time.February, 20)), By: "utility board"},
		{Order: proposed.ID, Name: "permit", LastSafeOn: new(date(2026, time.May, 1)), By: "harbor office", Note: "for the second mooring"},
	}
	return p
}
