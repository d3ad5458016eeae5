package api

import (
	"maps"
	"reflect"

	"overwinter/internal/inventory"
)

func init() {
	maps.Copy(meanings, supplyMeanings)
	maps.Copy(kinds, map[reflect.Type][]any{
		reflect.TypeFor[inventory.PayFrom]():      {inventory.PayFromOrder, inventory.PayFromDelivery},
		reflect.TypeFor[inventory.LimitCause]():   {inventory.LimitDraft, inventory.LimitWeight, inventory.LimitTide, inventory.LimitOther},
		reflect.TypeFor[inventory.SpendingKind](): {inventory.SpendingCredit, inventory.SpendingLoan, inventory.SpendingSupplier},
	})
}

// supplyMeanings says what the properties of supply terms mean, as meanings does.
var supplyMeanings = map[string]string{
	"reserve_months":                   "The reserve as months at the coming outflow, rounded to whole days; null where it is stated otherwise.",
	"reserve_percent":                  "The reserve as a percentage of what the tanks in service can give when full; null where it is stated otherwise.",
	"fallback_at_days":                 "The stock, in days of the coming outflow, at which a fallback is bought; null: at the reserve.",
	"carrying_per_year":                "What holding fuel for a year costs as a share of its worth; null where it is not known.",
	"spending_limits":                  "What bounds the plant's orders.",
	"terms":                            "What a delivery costs beside the price, how many a window allows, and when one is paid.",
	"TermsDescribed.load_l15":          "What one truck, aircraft or boat carries: a lot is whole loads; null where lots are not counted so.",
	"stop_cost":                        "What each delivery costs whatever it brings; null for nothing.",
	"freight_per_l15":                  "On top of the price; null for nothing.",
	"price_growth_per_year":            "The share by which the price is expected to grow in a year; null for none.",
	"price_sd_per_year":                "Standard deviation of the price's natural logarithm after a year; null where the price is taken for known.",
	"deliveries":                       "The most deliveries to one plant in one window.",
	"days_between":                     "The least days between two of them.",
	"pay_from":                         "From which day the time to pay counts.",
	"pay_days":                         "How long after it a delivery is paid.",
	"cut_off":                          "The last day of delivery, however late the window closes; null where none is stated.",
	"WindowDescribed.cut_off":          "The last day of delivery, MM-DD, however late the window closes: the first such date from the stated opening on; null where none is stated.",
	"limits":                           "What bounds the lots that arrive on certain days of each year.",
	"WindowLimitDescribed.from":        "The first of these days, MM-DD.",
	"WindowLimitDescribed.until":       "The last of these days, MM-DD; before the first in the calendar means the year after.",
	"WindowLimitDescribed.lot_max_l15": "The most that a delivery brings on these days.",
	"WindowLimitDescribed.cause":       "What keeps it small.",
	"WindowLimitDescribed.note":        "A note; empty where there is none.",
	"SpendingDescribed.name":           "The limit's name.",
	"SpendingDescribed.kind":           "Whose limit it is: a line of credit, a loan for fuel, a supplier's allotment.",
	"SpendingDescribed.from":           "The first day on which orders count.",
	"SpendingDescribed.until":          "The last day on which orders count.",
	"amount":                           "What may be spent; null where it is not bounded in money.",
	"SpendingDescribed.volume_l15":     "What may be ordered; null where it is not bounded in litres.",
	"SpendingDescribed.currency":       "ISO 4217 code; null where it is not bounded in money.",
	"capacity_percent":                 "Percentage of what the tanks in service can give when full; null where the reserve is none.",
}
