package inventory

import (
	"time"

	"overwinter/internal/units"
)

// Plant is one power plant with its rules for planning.
type Plant struct {
	Entry
	ID      string  `json:"id"`
	Name    string  `json:"name"`
	Group   string  `json:"group,omitempty"` // plants of one climate: they share a seasonal shape and weather
	Zone    string  `json:"zone"`            // IANA time zone
	Product Product `json:"product"`

	// Density15 is the fuel's density at 15 °C; nil means the product's usual one.
	Density15 *units.KgPerM3 `json:"density15_kgm3,omitempty"`
	// The reserve: a volume, days or months at the coming burn, or a percentage of what the tanks in service hold.
	// All nil means DefaultReserveDays.
	ReserveLitres  *units.LitresAt15 `json:"reserve_l15,omitempty"`
	ReserveDays    *int              `json:"reserve_days,omitempty"`
	ReserveMonths  *float64          `json:"reserve_months,omitempty"`
	ReservePercent *float64          `json:"reserve_percent,omitempty"`
	// FallbackAtDays is the stock, in days of the coming outflow, at which fuel is bought by a fallback route; nil
	// means at the reserve.
	FallbackAtDays *int `json:"fallback_at_days,omitempty"`
	// Carrying is what a year of holding fuel costs as a share of its worth: interest and storage; nil means that
	// it is not known.
	Carrying *float64 `json:"carrying_per_year,omitempty"`
	// RiskTarget is the accepted probability of going below reserve before the next delivery; nil
	// means DefaultRiskTarget.
	RiskTarget *float64 `json:"risk_target,omitempty"`
	// AssumedTemperature stands in for a temperature that was not read.
	AssumedTemperature *units.Celsius `json:"assumed_temperature_c,omitempty"`
	// WarmTo is the highest temperature the stored fuel may reach; room is reckoned at it.
	WarmTo *units.Celsius `json:"warm_to_c,omitempty"`

	// LowTimerHours is how long the engines may run once a day tank's low-level float has tripped; nil means
	// the usual two hours.
	LowTimerHours *float64 `json:"low_level_timer_hours,omitempty"`

	Display          Display    `json:"display,omitzero"`
	FiscalYearBegins time.Month `json:"fiscal_year_begins,omitempty"` // 0 means January
}

// Display names the units in which a plant's people read and write, as units.Scale names; empty
// means the stored unit.
type Display struct {
	Volume      string `json:"volume,omitempty"`
	Depth       string `json:"depth,omitempty"`
	Temperature string `json:"temperature,omitempty"`
}

// Defaults for what a plant leaves unsaid. Each is a planning convention, common practice without a
// source, and is stated beside the answers that use it.
const (
	DefaultReserveDays                      = 30
	DefaultRiskTarget                       = 0.05
	DefaultAssumedTemperature units.Celsius = 5
	DefaultWarmTo             units.Celsius = 25
)

// DaysPerMonth is how many days a month of reserve has: a twelfth of a mean Julian year.
const DaysPerMonth = 365.25 / 12

// Kind tells that the row is a plant.
func (p *Plant) Kind() Kind { return KindPlant }

// PlantID gives the plant's own id.
func (p *Plant) PlantID() string { return p.ID }

// Location loads the plant's zone.
func (p *Plant) Location() (*time.Location, error) { return time.LoadLocation(p.Zone) }

// Density gives the density at 15 °C to reckon with.
func (p *Plant) Density() units.KgPerM3 { return orElse(p.Density15, p.Product.Density()) }

// DensityOf gives the density at 15 °C to reckon a product with: what the plant states is of its own product.
func (p *Plant) DensityOf(product Product) units.KgPerM3 {
	if product == p.Product {
		return p.Density()
	}
	return product.Density()
}

// Risk gives the risk target to plan with.
func (p *Plant) Risk() float64 { return orElse(p.RiskTarget, DefaultRiskTarget) }

// FuelTemperature gives the temperature to reckon with where none was read.
func (p *Plant) FuelTemperature() units.Celsius {
	return orElse(p.AssumedTemperature, DefaultAssumedTemperature)
}

// WarmestFuel gives the temperature at which room is reckoned.
func (p *Plant) WarmestFuel() units.Celsius { return orElse(p.WarmTo, DefaultWarmTo) }

// FiscalBegin gives the month in which the plant's fiscal year begins.
func (p *Plant) FiscalBegin() time.Month { return max(p.FiscalYearBegins, time.January) }

func orElse[T any](value *T, otherwise T) T {
	if value == nil {
		return otherwise
	}
	return *value
}
