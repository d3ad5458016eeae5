package web

import (
	"html"
	"strings"
	"testing"

	"overwinter/internal/score"
)

// scored is forecasts of one and three months of which some have passed.
func scored() *score.Scores {
	return &score.Scores{
		Issued: 17, First: pointer(after(-520)), NextDue: pointer(after(28)),
		Lengths: []score.Length{
			{Months: 1, Due: 16, Scored: 16, Summary: &score.Summary{
				Apart: 16, MedianError: -1.2, MedianMiss: 3.1,
				Inside80: score.Coverage{Inside: 13, Percent: 81.25, Low: 57, High: 93.4}, Inside95: score.Coverage{Inside: 15, Percent: 93.75},
			}},
			{Months: 3, Due: 15, Scored: 14, Summary: &score.Summary{
				Apart: 5, MedianError: 2.04, MedianMiss: 4,
				Inside80: score.Coverage{Inside: 11, Percent: 78.571, Low: 36.3, High: 95.8}, Inside95: score.Coverage{Inside: 13, Percent: 92.857},
				Against: &score.Against{Compared: 12, MedianMiss: 4, YearBeforeMiss: 9.25},
			}},
			{Months: 6, Due: 12, Unscored: []score.Unscored{{Reason: score.Gap, Count: 12}}},
		},
	}
}

func TestAPlantTellsHowGoodItsForecastsWere(t *testing.T) {
	good, one, gaps, soon, never := orin(), orin(), orin(), orin(), orin()
	good.Scores, one.Scores, gaps.Scores, never.Scores = scored(), scored(), scored(), &score.Scores{}
	one.Scores.Lengths = one.Scores.Lengths[:1]
	one.Scores.Lengths[0].Scored, one.Scores.Lengths[0].Summary.Inside80.Inside = 1, 0
	gaps.Scores.Lengths = gaps.Scores.Lengths[2:]
	soon.Scores = &score.Scores{Issued: 1, NextDue: pointer(after(28))}
	tests := []struct {
		name, want string
		page       scoresView
		rows       int
	}{
		{"good", "Of 14 forecasts of 3 months, 11 were inside their range; the median missed by 4 %. The same months a year earlier would have missed by 9.2 %, where they are known.", scoresOf(good), 2},
		{"one", "What was burned was outside its range of the one forecast of 1 month that can be scored; its median missed by 3.1 %.", scoresOf(one), 1},
		{"gaps", "None of its forecasts that have come due can be scored: no readings that are believed cover their months without a gap.", scoresOf(gaps), 0},
		{"soon", "None of its forecasts has come due yet: the first does on 31 March.", scoresOf(soon), 0},
		{"never", "None of its forecasts has come due yet: the first of each month is kept from now on.", scoresOf(never), 0},
		{"before any was kept", "None of its forecasts has come due yet.", scoresOf(orin()), 0},
	}
	for _, tt := range tests {
		if got := spaced(tt.page.Text); got != tt.want || len(tt.page.Rows) != tt.rows {
			t.Errorf("%s: %q with %d rows, want %q with %d", tt.name, got, len(tt.page.Rows), tt.want, tt.rows)
		}
	}
	if got := scoresOf(good).Rows[1]; got.Scored != "14 of 15" || spaced(got.Inside80) != "79 %" || got.Range80 != "36 to 96" || spaced(got.Bias) != "+2 %" || spaced(got.YearBefore) != "9.2 %" {
		t.Errorf("%+v", got)
	}
	if got := scoresOf(good).Rows[0]; spaced(got.Bias) != "−1.2 %" || got.YearBefore != none {
		t.Errorf("%+v", got)
	}
}

func TestThePlantPageHasASectionOfItsForecasts(t *testing.T) {
	good := orin()
	good.Scores = scored()
	e := server(keep(t, good, marten()), asOf)
	for path, text := range map[string]string{
		"/plants/cape-orrin": "Of 14 forecasts of 3 months, 11 were inside their range", "/plants/marten%20spit%2F2": "None of its forecasts has come due yet.",
	} {
		if page := spaced(html.UnescapeString(get(e, path).Body.String())); !strings.Contains(page, text) {
			t.Errorf("%s does not say %q", path, text)
		}
	}
}
