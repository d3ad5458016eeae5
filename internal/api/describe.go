package api

import (
	"reflect"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/inventory"
	"overwinter/internal/notice"
	"overwinter/internal/resupply"
	"overwinter/internal/score"
)

// describe adds to the schemas what Go's types do not tell: meanings, units, the values of named kinds,
// the form of days and months, and which objects may be null.
func describe(doc *huma.OpenAPI) {
	schemas := doc.Components.Schemas
	for name, schema := range schemas.Map() {
		for _, f := range reflect.VisibleFields(schemas.TypeFromRef(schemaPrefix + name)) {
			json, options, _ := strings.Cut(f.Tag.Get("json"), ",")
			property := schema.Properties[json]
			if property == nil {
				continue
			}
			if property.Description == "" {
				property.Description = meaning(name, json)
			}
			if unit := unitOf(json); unit != "" {
				property.Extensions = map[string]any{"x-unit": unit}
			}
			refine(property, f.Type, options != "")
			if inBody := strings.HasSuffix(name, "Body"); inBody && options != "" && property.Ref == "" && len(property.AllOf) == 0 {
				property.Nullable = true // the checks take null for what is left out
			}
			if property.Format == "date-time" && strings.HasSuffix(name, "Body") {
				property.Pattern, property.PatternDescription = inventory.InstantForm, "a moment as in RFC 3339, such as 2026-03-02T08:00:00-09:00"
			}
		}
		if !strings.HasSuffix(name, "Body") {
			schema.AdditionalProperties = nil // answers may gain properties, bodies are held to theirs
		}
		schema.PrecomputeMessages()
		for _, property := range schema.Properties {
			property.PatternDescription = ""
		}
	}
	delete(schemas.Map(), "ErrorModel") // the library's own form of errors, which no operation answers with
	for _, path := range doc.Paths {
		for _, op := range []*huma.Operation{path.Get, path.Post} {
			plainPatterns(op)
		}
	}
}

// plainPatterns takes out of an operation's parameters what only the checks need: how a pattern is told to
// people is no keyword of OpenAPI. The messages of the checks are made by now.
func plainPatterns(op *huma.Operation) {
	if op == nil {
		return
	}
	for _, p := range op.Parameters {
		if p.Schema != nil {
			p.Schema.PatternDescription = ""
		}
	}
}

// meaning finds what a property means: in one schema, or everywhere.
func meaning(schema, property string) string {
	if text, ok := meanings[schema+"."+property]; ok {
		return text
	}
	return meanings[property]
}

// refine narrows a schema by its Go type.
func refine(s *huma.Schema, t reflect.Type, optional bool) {
	pointer := t.Kind() == reflect.Pointer
	if pointer {
		t = t.Elem()
	}
	switch {
	case s.Items != nil:
		refine(s.Items, t.Elem(), false)
	case t == reflect.TypeFor[calendar.Day]():
		s.Format = "date"
	case t == reflect.TypeFor[calendar.Month]():
		s.Pattern, s.Format = `^\d{4}-\d{2}$`, ""
	case pointer && s.Ref != "" && !optional:
		s.AnyOf, s.Ref = []*huma.Schema{{Ref: s.Ref}, {Type: "null"}}, ""
	case s.Ref != "" && s.Description != "": // some readers take no notice of what stands beside a reference
		s.AllOf, s.Ref = []*huma.Schema{{Ref: s.Ref}}, ""
	}
	if values, ok := kinds[t]; ok {
		s.Enum = values
	}
	if s.Nullable && s.Enum != nil && s.Enum[len(s.Enum)-1] != nil {
		s.Enum = append(s.Enum, nil)
	}
	if len(s.Examples) == 0 && s.Format == "date" {
		s.Examples = []any{"2026-03-02"}
	}
}

// kinds lists the values of the types that name a kind of something.
var kinds = map[reflect.Type][]any{
	reflect.TypeFor[resupply.Status]():          {resupply.Short, resupply.OrderNow, resupply.Unknown, resupply.OrderSoon, resupply.InHand},
	reflect.TypeFor[resupply.Guard]():           {resupply.ReserveGuard, resupply.WindowGuard, resupply.DeadlineGuard, resupply.SoonestGuard},
	reflect.TypeFor[resupply.EventKind]():       anyOf(resupply.EventKinds()),
	reflect.TypeFor[resupply.StepKind]():        anyOf(resupply.StepKinds()),
	reflect.TypeFor[resupply.Source]():          anyOf(resupply.Sources()),
	reflect.TypeFor[inventory.OrderState]():     anyOf(inventory.OrderStates()),
	reflect.TypeFor[inventory.ClearanceState](): anyOf(inventory.ClearanceStates()),
	reflect.TypeFor[advice.ChoiceKind]():        anyOf(advice.ChoiceKinds()),
	reflect.TypeFor[advice.Quality]():           {advice.Sound, advice.Weak, advice.NoAnswer},
	reflect.TypeFor[score.Reason]():             anyOf(score.Reasons()),
	reflect.TypeFor[notice.Severity]():          {notice.Info, notice.Caution, notice.Serious},
	reflect.TypeFor[inventory.Role]():           {inventory.Storage, inventory.Intermediate, inventory.DayTank},
	reflect.TypeFor[inventory.Kind]():           anyOf(inventory.Kinds()),
	reflect.TypeFor[inventory.Mode]():           {inventory.Barge, inventory.Sealift, inventory.WinterRoad, inventory.AllSeasonRoad, inventory.Air, inventory.SmallBoat},
	reflect.TypeFor[inventory.ShapeKind]():      {inventory.ShapeHorizontal, inventory.ShapeVertical, inventory.ShapeRectangular, inventory.ShapeTable, inventory.ShapeVolume},
	reflect.TypeFor[resupply.OptionKind]():      anyOf(resupply.OptionKinds()),
	reflect.TypeFor[resupply.Change]():          anyOf(resupply.Changes()),
}

func anyOf[T any](kinds []T) []any {
	values := make([]any, len(kinds))
	for i, k := range kinds {
		values[i] = k
	}
	return values
}

// unitsByEnd: units go by the end of a name; the longest comes first.
var unitsByEnd = []struct{ end, unit string }{
	{"price_per_l", "major units of the currency per L"}, {"_kwh", "kWh"}, {"_kw", "kW"}, {"kwh_per_l15", "kWh per L at 15 °C"}, {"_hours", "h"},
	{"_l15_per_day", "L/d at 15 °C"}, {"price_per_l15", "major units of the currency per L at 15 °C"}, {"per_l15", "major units of the currency per L at 15 °C"},
	{"_l15", "L at 15 °C"}, {"_l", "L"}, {"_mm", "mm"}, {"degree_days_c", "°C·d"}, {"_c", "°C"}, {"_kgm3", "kg/m³"}, {"_counts", "count"},
	{"_minor", "hundredths of the currency"}, {"_days", "d"}, {"days_covered", "d"}, {"days_of_cover_to_empty", "d"},
	{"days_of_cover_to_reserve", "d"}, {"litres_per_count", "L/count"}, {"_chance", "1"}, {"risk_target", "1"},
	{"too_late", "1"}, {"below_reserve", "1"}, {"percent", "%"},
	{"price_sd_per_year", "1"}, {"_per_year", "1/a"}, {"stop_cost", "major units of the currency"}, {"amount", "major units of the currency"},
	{"days_between", "d"}, {"reserve_months", "months of 365.25/12 d"},
}

func unitOf(property string) string {
	for _, u := range unitsByEnd {
		if strings.HasSuffix(property, u.end) {
			return u.unit
		}
	}
	return ""
}
