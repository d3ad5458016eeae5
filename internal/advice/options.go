package advice

import (
	"context"
	"slices"

	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
)

// PlanOptions is a plant's plan beside what could be done otherwise, or could happen.
type PlanOptions struct {
	Plant       string          `json:"plant"`
	Name        string          `json:"name"`
	Zone        string          `json:"zone"`
	AsOf        calendar.Day    `json:"as_of"`
	Basis       inventory.Basis `json:"basis"` // of volumes named l15
	Quality     Quality         `json:"quality"`
	Planned     *Planned        `json:"plan"`
	Options     []PlanOption    `json:"options"`
	Assumptions []string        `json:"assumptions"`
	Notices     notice.List     `json:"notices"`
}

// PlanOption is one thing done otherwise, compared with the plan on the same paths. Money is in hundredths of the
// plan's currency.
type PlanOption struct {
	Kind   resupply.OptionKind `json:"code"`
	Lot    *int                `json:"lot"` // of the plan's list, from 0; nil where it is of none
	Route  string              `json:"route"`
	Window string              `json:"window"`
	Opens  *calendar.Day       `json:"window_opens"`
	Share  *float64            `json:"burn_saved"` // as a share; nil where none is

	More      int64   `json:"costs_more_minor"` // mean; below 0 it is cheaper
	MoreError int64   `json:"costs_more_standard_error_minor"`
	Below     float64 `json:"below_reserve"`
	BelowMore float64 `json:"below_reserve_more"`
	// BelowError is the standard error of BelowMore.
	BelowError float64   `json:"below_reserve_more_standard_error"`
	Fallback   float64   `json:"fallback_mean_l15"`
	Missing    float64   `json:"missing_mean_l15"`
	Short      *Shortage `json:"short"` // at the risk target, the cheapest fallback first; nil where nothing is
}

// Options works a plant out with what the ledger holds now and sets its plan beside what could be done otherwise.
// Nothing is saved. The error is fault.NotFound where there is no such plant, and fault.Invalid where it has no
// plan.
func (a *Adviser) Options(ctx context.Context, id string) (PlanOptions, error) {
	o := a.opts
	o.Now = a.clock()
	r, err := beginIssuing(ctx, a.store, o, a.known)
	if err != nil {
		return PlanOptions{}, err
	}
	i := slices.IndexFunc(r.plants, func(p *inventory.Plant) bool { return p.ID == id })
	if i < 0 {
		return PlanOptions{}, fault.New(fault.NotFound, "there is no plant %q: check its id", id)
	}
	book, err := r.fitOne(ctx, i)
	if err != nil {
		return PlanOptions{}, err
	}
	if r.failed[i] != nil {
		return PlanOptions{}, r.failed[i]
	}
	var out PlanOptions
	err = guarded(i, func(i int) (err error) {
		out, err = r.options(ctx, i, book)
		return err
	})
	return out, err
}

func (r *run) options(ctx context.Context, i int, book *inventory.Book) (PlanOptions, error) {
	kept := &comparison{}
	r.compare = kept
	p, err := r.advise(ctx, i, book)
	if err != nil {
		return PlanOptions{}, err
	}
	if kept.plan == nil {
		return PlanOptions{}, fault.New(fault.Invalid, "there is no plan for %s: see the notices of its advice; it takes a known stock, two deliveries in sight and the price of every route", p.Name)
	}
	out := PlanOptions{
		Plant: p.Plant, Name: p.Name, Zone: p.Zone, AsOf: p.AsOf, Basis: inventory.Basis15, Quality: p.Quality, Planned: p.Planned, Options: []PlanOption{},
		Assumptions: p.Assumptions, Notices: p.Notices,
	}
	for _, o := range kept.plan.Options(kept.fresh, r.opts.Seed+freshSeed) {
		out.Options = append(out.Options, optionOf(o, kept.plan))
	}
	return out, nil
}

// comparison keeps what a plan was made from, for the options beside it.
type comparison struct {
	plan  *resupply.Plan
	fresh *resupply.Problem
}

func optionOf(o resupply.Option, plan *resupply.Plan) PlanOption {
	out := PlanOption{
		Kind: o.Kind, More: minor(o.More), MoreError: minor(o.Error), Below: o.Below, BelowMore: o.BelowMore, BelowError: o.BelowError,
		Fallback: o.Fallback, Missing: o.Missing,
	}
	window := o.Window
	if o.Lot >= 0 {
		out.Lot, window = &o.Lot, plan.Lots[o.Lot].Window
	}
	if window != nil {
		out.Route, out.Window, out.Opens = window.Route, window.Name, opening(window)
	}
	if o.Share > 0 {
		out.Share = &o.Share
	}
	if o.Short != nil {
		out.Short = shortage(o.Short)
	}
	return out
}
