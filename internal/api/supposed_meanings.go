package api

import "maps"

func init() { maps.Copy(meanings, supposedMeanings) }

// supposedMeanings are the meanings of what is answered to a supposition.
var supposedMeanings = map[string]string{
	"SupposedAnswer.quality": "How far it can be leant on: that of the weaker of the two cases, what is supposed taken as sure.",
	"supposition":            "What was supposed; null where it was left open. A day that was left out is filled in.",
	"winter":                 "The share of the observed years that the year to come is colder than.",
	"load_kw":                "The mean load that comes on top; below 0 one that goes.",
	"load_percent":           "The same in per cent of the plant's use.",
	"load_from":              "The first day of that load.",
	"standby_from":           "The first day on which the plant burns nothing.",
	"standby_until":          "The first day on which it runs again; null is never.",
	"engines_less_percent":   "How much less fuel the engines need for the same energy.",
	"engines_from":           "The first day of that.",
	"load":                   "How the load became a share of the plant's use; null where none is supposed.",
	"ratio":                  "Times which the plant uses what it would use without the load.",
	"mean_load_kw":           "The plant's mean load of the last year; null where the load was given in per cent.",
	"kwh_per_l15":            "What the plant makes of a litre; null where the load was given in per cent.",
	"yield_measured":         "Whether that is the plant's own, by its energy and fuel, and not the usual one; null where the load was given in per cent.",
	"uses":                   "The use of the days to come.",
	"SupposedUse.days":       "How many days, from the first after the as-of day.",
	"SupposedUse.without":    "Without what is supposed.",
	"SupposedUse.with":       "With it.",
	"p10_l15":                "10 % point.",
	"p50_l15":                "Median.",
	"p90_l15":                "90 % point.",

	"sensitivities":                  "What one change at a time would do, the greatest effect first; empty where the stock or the consumption is not known.",
	"what":                           "What is changed; its end is the unit of by. New kinds may come.",
	"by":                             "By how much, in the unit that what ends with.",
	"order_by_days":                  "By how many days the last day to order would be later; null where there is no order without the change, or none with it.",
	"Sensitivity.lot_l15":            "By how much the lot would be larger.",
	"Sensitivity.short_l15":          "By how much more would be missing, until a window delivers and after a lot that does not last.",
	"Sensitivity.status":             "How the plant would stand.",
	"Sensitivity.route":              "The route of the order then; empty without one.",
	"Sensitivity.window":             "Its window; empty without an order.",
	"SensitivitiesAnswer.order":      "What to order as things are; null where no order is needed or none would help.",
	"SensitivitiesAnswer.short":      "What is short as things are; null where nothing is.",
	"SupposedOutcome.order":          "What to order; null where no order is needed or none would help.",
	"SupposedAnswer.notices":         "What is doubtful about both cases alike.",
	"SupposedOutcome.notices":        "What is doubtful about this case, and not about the other.",
	"SupposedOutcome.short":          "What no window brings in time; null where nothing is short.",
	"SupposedUse.difference_l15":     "The median with, less the median without.",
	"SupposedUse.difference_percent": "The same in per cent of the median without; null where that is 0.",
	"SupposedAnswer.without":         "What follows without what is supposed.",
	"SupposedAnswer.with":            "What follows with it.",
}
