package demo

import (
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

func plantSpecs() []plantSpec {
	return append(coastPlants(), heronPoint(), ospreyInlet(), meridianLagoon(), coralStep())
}

// lakesPlant makes a plant on the winter road with what both share.
func lakesPlant(id, name string, litres float64) plantSpec {
	return plantSpec{
		plant: inventory.Plant{
			ID: id, Name: name, Group: "teal-lakes", Zone: "America/Winnipeg", Product: "diesel-arctic",
			Density15: new(units.KgPerM3(822)), AssumedTemperature: new(units.Celsius(0)), WarmTo: new(units.Celsius(22)),
			FiscalYearBegins: time.April, Carrying: new(lakesCarrying), FallbackAtDays: new(10),
		},
		climate: climate{meanC: 0, swingC: 15, warmestDay: 208, indoorsC: 18},
		burn:    law{litresPerYear: litres, season: winterPeak, noiseSD: 0.11, rho: 0.65},
		habits:  habits{roundHour: 7, dips: weekly},
		opening: 0.85,
		airL15:  17000,
	}
}

func litreMeter(opening float64) *meterSpec {
	return &meterSpec{inventory.Meter{ID: "fuel", LitresPerCount: 1, Digits: 8}, opening}
}

// heronPoint can hold hardly more than it burns from one winter road to the next.
func heronPoint() plantSpec {
	p := lakesPlant("heron-point", "Heron Point", 320000)
	p.plant.ReserveDays = new(20)
	p.tanks = []*inventory.Tank{
		standing("farm-1", inventory.Storage, 126000, 6000),
		standing("farm-2", inventory.Storage, 126000, 6000),
		standing("farm-3", inventory.Storage, 126000, 6000),
		box("middle", inventory.Intermediate, 16000, 4000, 1800),
		box("day", inventory.DayTank, 1000, 1200, 1000),
	}
	p.meter = litreMeter(1904433)
	p.calls = []call{{route: "lakes-road", window: "winter", afterDays: 3, spreadDays: 1.5, times: 9, everyDays: 5, lotL15: truckL15, arrivesC: -14}}
	p.orders = []*inventory.Order{
		{
			ID: "heron-point-loads-5-6", Route: "lakes-road", State: inventory.Ordered, Entry: inventory.Entry{Key: "order/heron-point-loads-5-6"},
			Measure:   inventory.Measure{Volume: 2 * truckL15},
			OrderedOn: date(2026, time.January, 12), Early: date(2026, time.March, 4), Likely: date(2026, time.March, 7), Late: date(2026, time.March, 13),
		},
		{
			ID: "heron-point-loads-7-9", Route: "lakes-road", State: inventory.Ordered,
			Measure:   inventory.Measure{Volume: 3 * truckL15},
			OrderedOn: date(2026, time.January, 12), Early: date(2026, time.March, 12), Likely: date(2026, time.March, 17), Late: date(2026, time.March, 25),
		},
	}
	loaded := *p.orders[0]
	loaded.State, loaded.StateAt = inventory.Loaded, moment(2026, time.March, 1, 18)
	loaded.Entry = inventory.Entry{Key: "order/heron-point-loads-5-6/loaded", Replaces: "order/heron-point-loads-5-6", Who: "coordinator", Why: "loading report"}
	sent := loaded
	sent.State, sent.StateAt = inventory.InTransit, moment(2026, time.March, 2, 14)
	sent.Entry = inventory.Entry{Key: "order/heron-point-loads-5-6/in-transit", Replaces: loaded.Key, Who: "coordinator", Why: "trucks have left"}
	sent.Likely, sent.Late = date(2026, time.March, 6), date(2026, time.March, 11)
	p.orders = append(p.orders, &loaded, &sent)
	return p
}

// ospreyInlet has a tank of jet fuel beside its diesel.
func ospreyInlet() plantSpec {
	p := lakesPlant("osprey-inlet", "Osprey Inlet", 900000)
	jet := standing("airstrip", inventory.Storage, 60000, 4800)
	jet.Product = "jet-a1"
	p.tanks = []*inventory.Tank{
		standing("farm-1", inventory.Storage, 425000, 9000),
		standing("farm-2", inventory.Storage, 425000, 9000),
		standing("farm-3", inventory.Storage, 425000, 9000),
		jet,
		box("middle", inventory.Intermediate, 40000, 6000, 2400),
		standing("day", inventory.DayTank, 2500, 1800),
	}
	p.meter = litreMeter(7033120)
	p.habits.splitByTank = true
	p.draws = []drawSpec{{inventory.Vehicles, 24000, []wave{{1, 0.3, 60}}}}
	p.calls = []call{{route: "lakes-road", window: "winter", afterDays: 2, spreadDays: 1, times: 24, everyDays: 1.5, lotL15: truckL15, arrivesC: -14}}
	p.orders = []*inventory.Order{{
		ID: "osprey-inlet-last-loads", Route: "lakes-road", State: inventory.Ordered,
		Measure:   inventory.Measure{Volume: 12 * truckL15},
		OrderedOn: date(2026, time.January, 15), Early: date(2026, time.March, 7), Likely: date(2026, time.March, 12), Late: date(2026, time.March, 21),
	}}
	return p
}

// atollPlant makes a tropical plant with what both share.
func atollPlant(id, name string, litres float64) plantSpec {
	return plantSpec{
		plant: inventory.Plant{
			ID: id, Name: name, Group: "meridian", Zone: "Etc/GMT-12", Product: "diesel-en590",
			AssumedTemperature: new(units.Celsius(29)), WarmTo: new(units.Celsius(36)), FiscalYearBegins: time.October,
			Carrying: new(atollCarrying),
		},
		climate: climate{meanC: 29, swingC: 1.5, warmestDay: 30, indoorsC: 34},
		burn:    law{litresPerYear: litres, season: []wave{{1, 0.05, 30}}, noiseSD: 0.10, rho: 0.6},
		habits:  habits{roundHour: 6, dips: weekly, noGapsInside: true},
		opening: 0.6,
		airL15:  8000,
	}
}

// meridianLagoon is the hub of the atolls, with tanks for about three months.
func meridianLagoon() plantSpec {
	p := atollPlant("meridian-lagoon", "Meridian Lagoon", 3600000)
	p.plant.ReserveDays = new(10)
	p.tanks = []*inventory.Tank{
		strapped("farm-1", inventory.Storage, 500000, 9000),
		strapped("farm-2", inventory.Storage, 500000, 9000),
		standing("middle", inventory.Intermediate, 60000, 6000),
		standing("day", inventory.DayTank, 12000, 3000),
	}
	p.meter = litreMeter(21400900)
	for _, name := range []string{"first", "second", "third", "fourth", "fifth", "sixth"} {
		p.calls = append(p.calls, call{route: "meridian-tanker", window: name, afterDays: 2, spreadDays: 2, arrivesC: 28})
	}
	p.airL15 = 60000
	p.orders = []*inventory.Order{{
		ID: "meridian-lagoon-second-2026", Route: "meridian-tanker", State: inventory.InTransit,
		Measure:   inventory.Measure{Volume: 600000},
		StateAt:   moment(2026, time.February, 27, 3),
		OrderedOn: date(2026, time.February, 5), Early: date(2026, time.March, 11), Likely: date(2026, time.March, 14), Late: date(2026, time.March, 22),
	}}
	return p
}

// coralStep has no meter and takes no temperatures: its use is the fall of stock between gaugings.
func coralStep() plantSpec {
	p := atollPlant("coral-step", "Coral Step", 390000)
	p.plant.ReserveDays = new(45)
	p.tanks = []*inventory.Tank{
		box("farm-1", inventory.Storage, 112000, 10000, 2500),
		box("farm-2", inventory.Storage, 112000, 10000, 2500),
		box("farm-3", inventory.Storage, 112000, 10000, 2500),
		box("day", inventory.DayTank, 2000, 1500, 1200),
	}
	p.habits.noThermo = true
	p.calls = []call{{route: "coral-coaster", window: "dry-season", afterDays: 7, spreadDays: 3, times: 3, everyDays: 75, arrivesC: 29, separate: true}}
	return p
}
