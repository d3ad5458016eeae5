package api

import (
	"context"
	"errors"
	"reflect"
	"regexp"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
)

// Supposer works a plant out under a supposition, or with one thing changed at a time, and saves nothing;
// *advice.Adviser does.
type Supposer interface {
	Suppose(ctx context.Context, plant string, s advice.Supposition) (advice.Supposed, error)
	Sensitivities(ctx context.Context, plant string) (advice.Sensitive, error)
}

// Figure is a number in a query that may be left out.
type Figure struct {
	Value float64
	Given bool
}

// Schema is that of the number.
func (Figure) Schema(r huma.Registry) *huma.Schema {
	return huma.SchemaFromType(r, reflect.TypeFor[float64]())
}

// Receiver is where the number is read to.
func (f *Figure) Receiver() reflect.Value { return reflect.ValueOf(f).Elem().Field(0) }

// OnParamSet hears whether it was given.
func (f *Figure) OnParamSet(given bool, _ any) { f.Given = given }

func (f Figure) optional() *float64 {
	if !f.Given {
		return nil
	}
	return &f.Value
}

// SupposedQuestion asks what would follow from a supposition.
type SupposedQuestion struct {
	PlantQuestion
	Winter         Figure `query:"winter" minimum:"0" maximum:"1" doc:"The share of the observed years that the year to come is colder than. Needs three whole years of degree days of the plant's climate group." example:"0.9"`
	LoadKW         Figure `query:"load_kw" minimum:"-100000" maximum:"100000" doc:"A mean load that comes on top, in kW; below 0 one that goes. Reckoned as a share of the plant's mean load of the last year." example:"40"`
	LoadPercent    Figure `query:"load_percent" exclusiveMinimum:"-100" maximum:"900" doc:"The same in per cent of the plant's use; not with load_kw." example:"10"`
	LoadFrom       string `query:"load_from" maxLength:"10" doc:"The first day of that load; the first day to come where it is left out." example:"2026-12-01"`
	StandbyFrom    string `query:"standby_from" maxLength:"10" doc:"The first day on which the plant stands by and burns nothing." example:"2026-06-01"`
	StandbyUntil   string `query:"standby_until" maxLength:"10" doc:"The first day on which it runs again; left out, it never does." example:"2026-09-01"`
	EnginesPercent Figure `query:"engines_less_percent" exclusiveMinimum:"0" exclusiveMaximum:"100" doc:"How much less fuel the engines need for the same energy." example:"8"`
	EnginesFrom    string `query:"engines_from" maxLength:"10" doc:"The first day of that; the first day to come where it is left out." example:"2026-10-01"`
}

// Resolve checks the query.
func (q *SupposedQuestion) Resolve(ctx huma.Context) []error {
	for _, name := range []string{"winter", "load_kw", "load_percent", "engines_less_percent"} {
		if text := ctx.Query(name); text != "" && !signedNumber.MatchString(text) {
			return refused(name, "expected a plain decimal number such as 0.9 or -40", text)
		}
	}
	return q.Conditional.Resolve(ctx)
}

var signedNumber = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`)

// SupposedAnswer is a plant's case under a supposition beside its case without.
type SupposedAnswer struct {
	Head
	Subject
	Supposition advice.Supposition     `json:"supposition"`
	Load        *advice.SupposedLoad   `json:"load"`
	Uses        []advice.SupposedUse   `json:"uses"`
	Without     advice.SupposedOutcome `json:"without"`
	With        advice.SupposedOutcome `json:"with"`
}

func (a *API) supposedOperation() {
	register(a, huma.Operation{
		OperationID: "get-supposed", Path: "/plants/{plant}/supposed", Tags: []string{"Suppositions"},
		Summary: "What would follow at a plant from a supposition",
		Description: "The plant is worked out twice with what the ledger holds now, without and with what is supposed: use, dates, order and lot. Nothing is saved, and the advice in force stays as it is. " +
			"At least one thing must be supposed, and several may be together. What is supposed is taken as sure. A supposition is a planning aid, not a forecast of what will happen.",
	}, plantErrors(), a.getSupposed)
}

func (a *API) getSupposed(ctx context.Context, q *SupposedQuestion) (*SupposedAnswer, error) {
	s, err := q.supposition()
	if err != nil {
		return nil, err
	}
	got, err := a.Supposer.Suppose(ctx, q.Plant, s)
	var f *fault.Error
	if errors.As(err, &f) && f.Kind == fault.Invalid {
		for i := range f.Fields {
			f.Fields[i].Where = "query." + f.Fields[i].Where
		}
	}
	if err != nil {
		return nil, err
	}
	got.Without.Notices, got.With.Notices = list(got.Without.Notices), list(got.With.Notices)
	return &SupposedAnswer{
		Head:    Head{AsOf: &got.AsOf, Basis: basis15, Quality: got.Quality, Assumptions: list(got.Assumptions), Notices: list(got.Notices)},
		Subject: Subject{got.Plant, got.Name, got.Zone}, Supposition: got.Supposition, Load: got.Load, Uses: list(got.Uses), Without: got.Without, With: got.With,
	}, nil
}

// supposition reads the days, and names those that are none.
func (q *SupposedQuestion) supposition() (advice.Supposition, error) {
	s := advice.Supposition{
		Winter: q.Winter.optional(), LoadKW: q.LoadKW.optional(), LoadPercent: q.LoadPercent.optional(), EnginesPercent: q.EnginesPercent.optional(),
	}
	wrong := fault.New(fault.Invalid, "a day cannot be read")
	for _, d := range []struct {
		name, text string
		into       **calendar.Day
	}{
		{"load_from", q.LoadFrom, &s.LoadFrom}, {"standby_from", q.StandbyFrom, &s.StandbyFrom},
		{"standby_until", q.StandbyUntil, &s.StandbyUntil}, {"engines_from", q.EnginesFrom, &s.EnginesFrom},
	} {
		if d.text == "" {
			continue
		}
		day, err := calendar.ParseDay(d.text)
		if err != nil {
			wrong = wrong.With(fault.Field{Where: "query." + d.name, Message: err.Error()})
		}
		*d.into = &day
	}
	if wrong.Fields != nil {
		return s, wrong
	}
	return s, nil
}
