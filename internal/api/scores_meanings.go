package api

import "maps"

func init() { maps.Copy(meanings, scoresMeanings) }

// scoresMeanings are the meanings of what the scores of forecasts have.
var scoresMeanings = map[string]string{
	"ScoresAnswer.ledger_version": "The version of the ledger that the forecasts were scored with; null where the answer was reckoned for a day of choice.",
	"tolerance_days":              "How far a reading may lie from an end of the span that was forecast.",
	"scores":                      "The scores; null where there is no answer, or none since forecasts are kept.",

	"Scores.issued":         "How many forecasts were kept before the as-of day.",
	"first_origin":          "The day at whose close the first of them begins; null where there is none.",
	"next_due":              "The last day of the span that passes next; null where none is to come.",
	"lengths":               "By length of the span, the shortest first; those of which no span has passed are left out.",
	"Scores.notices":        "What weakens the scores.",
	"Length.months":         "The length of the spans, in calendar months.",
	"due":                   "How many spans have passed.",
	"scored":                "How many of them are scored.",
	"unscored":              "Why the others are not.",
	"Unscored.reason":       "no-reading-at-start, no-reading-at-end: none within the tolerance; it may still come. gap: an interval is missing, or is not believed. nothing-burned: there is nothing to compare with. beyond-forecast: the forecast was not kept so far.",
	"Unscored.count":        "How many spans.",
	"model_versions":        "The versions of the model that made the scored forecasts.",
	"summary":               "Of the scored forecasts; null where there is none.",
	"newest":                "The newest scored forecasts, at most three, the newest first.",
	"spans_apart":           "How many of the scored spans can be chosen so that no two overlap: the trials that shares are given the range of.",
	"median_error_percent":  "Median of the errors with their signs: above 0 where the forecasts were too high.",
	"median_miss_percent":   "Median of the errors without their signs.",
	"Summary.inside_80":     "How many lay between the 10 and the 90 % point; 80 % should.",
	"Summary.inside_95":     "How many lay between the 2.5 and the 97.5 % point; 95 % should.",
	"inside":                "How many lay inside.",
	"percent":               "Their share.",
	"low_percent":           "Lower end of the 95 % confidence interval (Wilson) of the chance to lie inside.",
	"high_percent":          "Its upper end.",
	"pinball_percent":       "Mean pinball loss over the quantiles kept, in percent of what was burned; less is better, 0 is perfect.",
	"against_year_before":   "The same forecasts beside the naive one, that the span burns what it burned a year earlier; null where no span has usage of both years.",
	"compared":              "Over how many spans.",
	"Outcome.origin":        "The day at whose close the forecast begins.",
	"Outcome.issued_at":     "When it was issued.",
	"Outcome.model_version": "The version of the model that made it.",
	"compared_days":         "Length of the span from reading to reading, in local days.",
	"shift_days":            "How much later than the forecast the span begins; below 0 where it begins earlier.",
	"actual_l15":            "What was burned.",
	"forecast_p2_5_l15":     "What was forecast for a span of that length, 2.5 % point.",
	"forecast_p10_l15":      "10 % point.",
	"forecast_p50_l15":      "Median.",
	"forecast_p90_l15":      "90 % point.",
	"forecast_p97_5_l15":    "97.5 % point.",
	"error_percent":         "Median forecast less what was burned, in percent of that.",
	"Outcome.inside_80":     "What was burned lies between the 10 and the 90 % point.",
	"Outcome.inside_95":     "What was burned lies between the 2.5 and the 97.5 % point.",
	"year_before_l15":       "What was burned in the same span a year earlier, brought to the same number of days; null where usage does not cover it.",

	"year_before_median_miss_percent": "What the median miss would have been with the year before as the forecast.",
	"year_before_pinball_percent":     "The pinball loss of the year before as the forecast.",
}
