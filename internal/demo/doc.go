// Package demo makes a wholly invented utility with its plants, its supply and three years of readings,
// and keeps the truth beside them: what was really burned, what really stands in the tanks, and what will
// be burned. So a person can try the product without data, and a test can ask whether the answers are
// right, which no real ledger can tell.
//
// Plants, tanks and routes are fixed and so are the scripted events; burn, weather, window dates,
// measurement errors and gaps come from the seed. A scenario is simulated day by day: fuel
// is moved and burned as volume at 15 °C, and the readings are then taken from the tanks and meters with
// the errors of the people and instruments that take them.
//
// Places, utilities and suppliers do not exist. Only the time zones are real, since clocks must change
// somewhere. Magnitudes of the coastal plants follow the percentiles of monthly reports to Alaska's
// rate-support programme, 2016 to 2025, as published by the University of Alaska Fairbanks
// (github.com/acep-uaf/ak-energy-statistics); the other regions and all rules of operation are common practice,
// no source.
package demo
