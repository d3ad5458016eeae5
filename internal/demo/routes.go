package demo

import (
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// supplyRoutes gives the routes of the demo. Window dates and spreads of the coast and the winter road
// are those of sub-arctic rivers and roads: break-up spreads by seven to eight days, freeze-up by eleven
// (NSIDC Global Lake and River Ice Phenology). Lead times, lots and prices are common practice, no source.
func supplyRoutes() []route {
	return append(append(coastRoutes(), lakesRoutes()...), atollRoutes()...)
}

func coastRoutes() []route {
	barge := inventory.Route{
		ID: "kestrel-barge", Mode: inventory.Barge, Supplier: "Kestrel Sound Lighterage",
		LeadDays: 35, LeadSDDays: 6, SlipDays: 5, SlipSDDays: 4,
		LotMin: 4000 * gal, LotMax: 300000 * gal, LotStep: 500 * gal, PricePerLitre: 1.16, Currency: "USD",
	}
	slough := barge
	slough.ID, slough.LotMax, slough.PricePerLitre = "slough-barge", 40000*gal, 1.29
	tanker := barge
	tanker.ID, tanker.Supplier, tanker.LotMax, tanker.LotStep = "harbor-tanker", "Meridian Bulk Carriers", 900000*gal, 5000*gal
	tanker.Mode, tanker.LotMin, tanker.PricePerLitre, tanker.LeadDays = inventory.Sealift, 100000*gal, 0.98, 45
	all := []string{"marten-spit", "tern-landing", "cape-orrin", "stillwater-bend", "northgate", "grayling-mouth", "plover-bight"}
	air := fallback("kestrel-air", inventory.Air, "Sound Air Tankers", 6, 4500*gal, 2.45, "USD")
	strip := fallback("strip-air", inventory.Air, "Sound Air Tankers", 6, 1200*gal, 3.1, "USD")
	return []route{
		{&barge, all, []*inventory.Window{
			window("kestrel-barge", "early-summer", on(time.June, 10), 8, on(time.July, 15), 5, 0, on(time.March, 25)),
			window("kestrel-barge", "autumn", on(time.August, 25), 5, on(time.September, 28), 8, 0.02, on(time.July, 20)),
		}},
		{&slough, []string{"alder-slough"}, []*inventory.Window{
			window("slough-barge", "early-summer", on(time.June, 14), 8, on(time.July, 12), 6, 0.05, on(time.May, 1)),
			window("slough-barge", "autumn", on(time.August, 25), 6, on(time.September, 20), 8, 0.4, on(time.July, 20)),
		}},
		{&tanker, []string{"sound-harbor"}, []*inventory.Window{
			cutOff(window("harbor-tanker", "open-water", on(time.June, 8), 8, on(time.October, 5), 9, 0.01, on(time.April, 20)), on(time.October, 12)),
		}},
		{air, append(all[1:len(all):len(all)], "sound-harbor", "alder-slough"), nil},
		{strip, []string{"marten-spit"}, nil},
	}
}

// truckL15 is one truck on the winter road: the press reported 9.6 million litres in 231 loads of one
// territory's resupply in the winter of 2024/25.
const truckL15 = 41600

func lakesRoutes() []route {
	road := inventory.Route{
		ID: "lakes-road", Mode: inventory.WinterRoad, Supplier: "Teal Lakes Haulage",
		LeadDays: 10, LeadSDDays: 3, SlipDays: 3, SlipSDDays: 3,
		LotMin: truckL15, LotMax: 40 * truckL15, LotStep: truckL15, PricePerLitre: 1.62, Currency: "CAD",
	}
	plants := []string{"heron-point", "osprey-inlet"}
	return []route{
		{&road, plants, []*inventory.Window{
			cutOff(window("lakes-road", "winter", on(time.February, 5), 5, on(time.March, 28), 9, 0.01, on(time.January, 20)), on(time.April, 15)),
		}},
		{fallback("lakes-air", inventory.Air, "Northern Lakes Air", 5, 17000, 3.9, "CAD"), plants, nil},
	}
}

func atollRoutes() []route {
	tanker := inventory.Route{
		ID: "meridian-tanker", Mode: inventory.Sealift, Supplier: "Meridian Bulk Carriers",
		LeadDays: 26, LeadSDDays: 4, SlipDays: 3, SlipSDDays: 3,
		LotMin: 200000, LotMax: 700000, LotStep: 10000, PricePerLitre: 1.35, Currency: "AUD",
	}
	coaster := inventory.Route{
		ID: "coral-coaster", Mode: inventory.Barge, Supplier: "Coral Step Shipping",
		LeadDays: 30, LeadSDDays: 7, SlipDays: 5, SlipSDDays: 5,
		LotMin: 20000, LotMax: 260000, LotStep: 1000, PricePerLitre: 1.74, Currency: "AUD",
	}
	var visits []*inventory.Window
	names := []string{"first", "second", "third", "fourth", "fifth", "sixth"}
	for i, name := range names {
		month := time.Month(2*i + 1)
		spread, fail := 3.0, 0.02
		if month < time.May || month > time.October { // cyclone season
			spread, fail = 4, 0.06
		}
		visits = append(visits, window(tanker.ID, name, on(month, 10), spread, on(month, 27), spread, fail, inventory.MonthDay{}))
	}
	return []route{
		{&tanker, []string{"meridian-lagoon"}, visits},
		{&coaster, []string{"coral-step"}, []*inventory.Window{
			window(coaster.ID, "dry-season", on(time.May, 5), 9, on(time.November, 10), 8, 0, inventory.MonthDay{}),
		}},
		{fallback("meridian-boat", inventory.SmallBoat, "Coral Step Shipping", 8, 8000, 3.2, "AUD"), []string{"meridian-lagoon", "coral-step"}, nil},
	}
}

func fallback(id string, mode inventory.Mode, supplier string, lead float64, load units.LitresAt15, price float64, currency string) *inventory.Route {
	return &inventory.Route{
		ID: id, Mode: mode, Supplier: supplier, Fallback: true, LeadDays: lead, LeadSDDays: 2,
		LotMin: load / 4, LotMax: load, PricePerLitre: price, Currency: currency,
	}
}

func on(month time.Month, day int) inventory.MonthDay {
	return inventory.MonthDay{Month: month, Day: day}
}

// cutOff states the last day of delivery.
func cutOff(w *inventory.Window, on inventory.MonthDay) *inventory.Window {
	w.CutOff = &on
	return w
}

func window(route, name string, opens inventory.MonthDay, opensSD float64, closes inventory.MonthDay, closesSD, fail float64, orderBy inventory.MonthDay) *inventory.Window {
	w := &inventory.Window{
		Entry: inventory.Entry{Key: route + "/" + name}, Route: route, Name: name,
		Opens: opens, OpensSDDays: opensSD, Closes: closes, ClosesSDDays: closesSD, FailChance: fail,
	}
	if orderBy.Month != 0 {
		w.OrderBy = &orderBy
	}
	return w
}
