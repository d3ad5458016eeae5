package advice

import (
	"context"
	"errors"
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/forecast"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

// Supposed is a plant's case under a supposition beside its case without. Volumes are litres at 15 °C.
type Supposed struct {
	Plant       string          `json:"plant"`
	Name        string          `json:"name"`
	Zone        string          `json:"zone"`
	AsOf        calendar.Day    `json:"as_of"`
	Basis       inventory.Basis `json:"basis"`   // of volumes named l15
	Quality     Quality         `json:"quality"` // the weaker of the two cases'
	Supposition Supposition     `json:"supposition"`
	Load        *SupposedLoad   `json:"load"` // nil where no load is supposed
	Uses        []SupposedUse   `json:"uses"`
	Without     SupposedOutcome `json:"without"`
	With        SupposedOutcome `json:"with"`
	Assumptions []string        `json:"assumptions"`
	Notices     notice.List     `json:"notices"` // of both cases alike
}

// SupposedUse is the use of the next days, without and with what is supposed.
type SupposedUse struct {
	Days       int      `json:"days"`
	Without    UseRange `json:"without"`
	With       UseRange `json:"with"`
	Difference float64  `json:"difference_l15"`     // of the medians
	Percent    *float64 `json:"difference_percent"` // of the median without; nil where that is 0
}

// UseRange is 10, 50 and 90 % points of a use.
type UseRange struct {
	P10 float64 `json:"p10_l15"`
	P50 float64 `json:"p50_l15"`
	P90 float64 `json:"p90_l15"`
}

// SupposedOutcome is what follows from a use: dates, what to order and what is short.
type SupposedOutcome struct {
	Status        resupply.Status `json:"status"`
	DaysToEmpty   *int            `json:"days_of_cover_to_empty"`
	DaysToReserve *int            `json:"days_of_cover_to_reserve"`
	ReserveDate   resupply.Dates  `json:"reserve_date"`
	DryDate       resupply.Dates  `json:"dry_date"`
	Order         *Order          `json:"order"`
	Short         *Shortage       `json:"short"`
	Notices       notice.List     `json:"notices"` // that the other case has not
}

// supposedDays are the spans whose use is told.
var supposedDays = []int{30, 180, 365}

// Suppose works a plant out twice with what the ledger holds now, as Plant would say it and under a supposition, and saves
// neither. The error is fault.NotFound where there is no such plant, and fault.Invalid, with the JSON names of the
// supposition's fields, where the plant cannot be reckoned with or the supposition does not fit it.
func (a *Adviser) Suppose(ctx context.Context, id string, s Supposition) (Supposed, error) {
	r, i, err := a.open(ctx, id)
	if err != nil {
		return Supposed{}, err
	}
	if err := s.Check(r.asOf[i], r.origin); err != nil {
		return Supposed{}, err
	}
	book, err := r.fitted(ctx, i)
	if err != nil {
		return Supposed{}, err
	}
	var out Supposed
	err = guarded(i, func(i int) (err error) {
		out, err = r.suppose(ctx, i, book, s)
		return err
	})
	return out, err
}

// suppose works a fitted plant out without a supposition and with it.
func (r *run) suppose(ctx context.Context, i int, book *inventory.Book, s Supposition) (Supposed, error) {
	plain := r.models[i]
	if plain.Err() != nil {
		return Supposed{}, plain.Err()
	}
	s = s.from(r.origin + 1)
	changes, load, err := supposedChanges(book, plain, s)
	if err != nil {
		return Supposed{}, err
	}
	supposed, err := plain.Under(forecast.Scenario{Winter: s.Winter, Changes: changes})
	if err != nil {
		return Supposed{}, unsupposable(err)
	}
	without, err := r.advise(ctx, i, book)
	if err != nil {
		return Supposed{}, err
	}
	r.models[i] = supposed
	with, err := r.advise(ctx, i, book)
	if err != nil {
		return Supposed{}, err
	}
	out := Supposed{
		Plant: without.Plant, Name: without.Name, Zone: without.Zone, AsOf: without.AsOf, Basis: inventory.Basis15, Quality: without.Quality, Supposition: s, Load: load,
		Without: outcomeOf(without, with), With: outcomeOf(with, without),
		Assumptions: append(without.Assumptions, s.assumptions(load)...), Notices: picked(without.Notices, with.Notices, true),
	}
	if with.Quality != Sound {
		out.Quality = with.Quality
	}
	for _, days := range supposedDays {
		out.Uses = append(out.Uses, useOf(plain, supposed, without.AsOf, days))
	}
	return out, nil
}

// unsupposable names the winter in what a model says against a supposition: its changes were checked before.
func unsupposable(err error) error {
	var f *fault.Error
	if errors.As(err, &f) && f.Kind == fault.Invalid {
		return supposedWrong("winter", "%s", f.Message)
	}
	return err
}

// takesWinter tells whether a winter can be supposed: it needs some whole years of degree days of the climate group.
func takesWinter(m forecast.Model) bool {
	middle := 0.5
	_, err := m.Under(forecast.Scenario{Winter: &middle})
	return m.Err() == nil && err == nil
}

func outcomeOf(a, other Plant) SupposedOutcome {
	return SupposedOutcome{a.Status, a.DaysToEmpty, a.DaysToReserve, a.ReserveDate, a.DryDate, a.Order, a.Short, picked(a.Notices, other.Notices, false)}
}

// picked gives the notices of one case that the other has too, word for word, or those that it has not.
func picked(notes, other notice.List, shared bool) notice.List {
	kept := notice.List{}
	for _, n := range notes {
		if slices.Contains(other, n) == shared {
			kept = append(kept, n)
		}
	}
	return kept
}

func useOf(plain, supposed forecast.Model, asOf calendar.Day, days int) SupposedUse {
	u := SupposedUse{Days: days, Without: rangeOf(plain, asOf, days), With: rangeOf(supposed, asOf, days)}
	u.Difference = u.With.P50 - u.Without.P50
	if u.Without.P50 > 0 {
		percent := 100 * u.Difference / u.Without.P50
		u.Percent = &percent
	}
	return u
}

func rangeOf(m forecast.Model, asOf calendar.Day, days int) UseRange {
	start := float64(asOf + 1)
	q := m.Quantiles(start, start+float64(days), 0.1, 0.5, 0.9)
	return UseRange{float64(q[0]), float64(q[1]), float64(q[2])}
}
