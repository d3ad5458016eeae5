package web

import (
	"math"
	"strconv"

	"overwinter/internal/advice"
	"overwinter/internal/score"
)

// scoresView is how good a plant's own forecasts were.
type scoresView struct {
	Text string
	Rows []scoreRow
}

// scoreRow is the forecasts of one length.
type scoreRow struct{ Length, Scored, Inside80, Miss, YearBefore, Bias, Inside95, Range80 string }

// spoken is the length that the sentence is about, where it is scored: about what lies between two windows.
const spoken = 3

func scoresOf(p advice.Plant) scoresView {
	if p.Scores == nil {
		return scoresView{Text: "None of its forecasts has come due yet."}
	}
	var v scoresView
	var said *score.Length
	due := 0
	for i := range p.Scores.Lengths {
		l := &p.Scores.Lengths[i]
		due += l.Due
		if l.Summary == nil {
			continue
		}
		v.Rows = append(v.Rows, scoreRowOf(l))
		if said == nil || l.Months == spoken {
			said = l
		}
	}
	switch next := p.Scores.NextDue; {
	case said != nil:
		v.Text = scoreSentence(said)
	case due > 0:
		v.Text = "None of its forecasts that have come due can be scored: no readings that are believed cover their months without a gap."
	case next != nil:
		v.Text = "None of its forecasts has come due yet: the first does on " + longDay(*next, p.AsOf) + "."
	default:
		v.Text = "None of its forecasts has come due yet: the first of each month is kept from now on."
	}
	return v
}

// scoreSentence says how good the forecasts of one length were.
func scoreSentence(l *score.Length) string {
	s := l.Summary
	if l.Scored == 1 {
		where := "outside its range"
		if s.Inside80.Inside == 1 {
			where = "inside its range"
		}
		return "What was burned was " + where + " of the one forecast of " + months(l.Months) + " that can be scored; its median missed by " + percent(s.MedianMiss/100) + "."
	}
	text := "Of " + strconv.Itoa(l.Scored) + " forecasts of " + months(l.Months) + ", " + strconv.Itoa(s.Inside80.Inside) + " were inside their range; the median missed by " + percent(s.MedianMiss/100)
	if a := s.Against; a != nil {
		text += ". The same months a year earlier would have missed by " + percent(a.YearBeforeMiss/100)
		if a.Compared < l.Scored {
			text += ", where they are known"
		}
	}
	return text + "."
}

func scoreRowOf(l *score.Length) scoreRow {
	s := l.Summary
	r := scoreRow{
		Length: months(l.Months), Scored: strconv.Itoa(l.Scored) + " of " + strconv.Itoa(l.Due),
		Inside80: percent(s.Inside80.Percent / 100), Inside95: percent(s.Inside95.Percent / 100),
		Range80: strconv.Itoa(int(math.Round(s.Inside80.Low))) + " to " + strconv.Itoa(int(math.Round(s.Inside80.High))),
		Miss:    percent(s.MedianMiss / 100), Bias: signed(s.MedianError), YearBefore: none,
	}
	if a := s.Against; a != nil {
		r.YearBefore = percent(a.YearBeforeMiss / 100)
	}
	return r
}

// signed writes a percentage with its sign.
func signed(percentage float64) string {
	switch text := percent(math.Abs(percentage) / 100); {
	case text == percent(0):
		return text
	case percentage < 0:
		return "−" + text
	default:
		return "+" + text
	}
}

func months(n int) string {
	if n == 1 {
		return "1" + joint + "month"
	}
	return strconv.Itoa(n) + joint + "months"
}
