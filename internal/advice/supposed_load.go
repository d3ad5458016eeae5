package advice

import (
	"fmt"

	"overwinter/internal/forecast"
	"overwinter/internal/inventory"
)

// SupposedLoad is how a load that is supposed became a ratio of the plant's use.
type SupposedLoad struct {
	Ratio float64 `json:"ratio"`
	// The others are nil where the load was given in per cent.
	MeanKW   *float64 `json:"mean_load_kw"` // of the year up to the as-of day
	Yield    *float64 `json:"kwh_per_l15"`
	Measured *bool    `json:"yield_measured"` // whether that is the plant's own yield
}

const mostSupposition = 1 + mostSupposedPercent/100

// supposedChanges turns a supposition into changes of use.
func supposedChanges(book *inventory.Book, m forecast.Model, s Supposition) (all []forecast.Change, load *SupposedLoad, err error) {
	switch {
	case s.LoadPercent != nil:
		load = &SupposedLoad{Ratio: 1 + *s.LoadPercent/100}
	case s.LoadKW != nil:
		if load, err = addedLoad(book, m, *s.LoadKW); err != nil {
			return nil, nil, err
		}
	}
	if load != nil {
		all = append(all, forecast.Change{From: *s.LoadFrom, Ratio: load.Ratio})
	}
	if s.StandbyFrom != nil {
		c := forecast.Change{From: *s.StandbyFrom}
		if s.StandbyUntil != nil {
			c.Until = *s.StandbyUntil
		}
		all = append(all, c)
	}
	if s.EnginesPercent != nil {
		all = append(all, forecast.Change{From: *s.EnginesFrom, Ratio: 1 - *s.EnginesPercent/100})
	}
	return all, load, nil
}

// addedLoad makes of added kW a ratio of the plant's use: 1 + added/mean load.
func addedLoad(book *inventory.Book, m forecast.Model, added float64) (*SupposedLoad, error) {
	usages, _ := book.PlantUsages()
	good, _ := believed(book, usages, m)
	end := float64(book.AsOf + 1)
	last := useOver(book, good, end-year, end)
	if !last.known() {
		return nil, supposedWrong("load_kw", "what the plant uses is known of %.0f days of the last year: expected %.0f or more; give the load in per cent instead", last.days, fewestDays)
	}
	mean := last.kW()
	ratio := 1 + added/mean
	if ratio < 1-mostLessPercent/100 || ratio > mostSupposition {
		return nil, supposedWrong("load_kw", "found %g kW beside a mean load of %.1f kW: expected %.1f to %.1f kW", added, mean, -mean*mostLessPercent/100, mean*(mostSupposition-1))
	}
	return &SupposedLoad{Ratio: ratio, MeanKW: &mean, Yield: &last.perLitre, Measured: &last.measured}, nil
}

// assumptions says what a supposition takes for given.
func (s Supposition) assumptions(load *SupposedLoad) []string {
	all := []string{"what is supposed is taken as sure: its own doubt is in none of the ranges"}
	if load != nil {
		all = append(all, fmt.Sprintf("with the load the plant uses %.2f times what it would use, in each season alike", load.Ratio))
	}
	if load != nil && load.MeanKW != nil {
		of := "assumed, since its own is not known"
		if *load.Measured {
			of = "by its own energy and fuel"
		}
		all = append(all, fmt.Sprintf("a mean load of %.0f kW over the last year, at %.2f kWh a litre %s", *load.MeanKW, *load.Yield, of))
	}
	if s.Winter != nil {
		all = append(all, "the winter is one of those observed, or lies between two of them, and holds for the year to come; the years after it are open")
	}
	return all
}
