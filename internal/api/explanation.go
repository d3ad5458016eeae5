package api

import "overwinter/internal/resupply"

// Explanation is the arithmetic behind an answer: its kinds and values for machines, each with its words
// for people.
type Explanation struct {
	Guard resupply.Guard    `json:"guard,omitempty"`
	Path  int               `json:"path"`
	Lines []ExplanationLine `json:"lines"`
	Steps []ExplanationStep `json:"steps"`
	Need  *Deciding         `json:"need,omitempty"`
	Room  *Deciding         `json:"room,omitempty"`
}

// Deciding is a path that decides one figure of the lot.
type Deciding struct {
	Path  int               `json:"path"`
	Lines []ExplanationLine `json:"lines"`
	Steps []ExplanationStep `json:"steps"`
}

// ExplanationLine is a dated line of the path that decides.
type ExplanationLine struct {
	resupply.Line
	Text string `json:"text"`
}

// ExplanationStep is a step from the day on which the path turns to the answer.
type ExplanationStep struct {
	resupply.Step
	Text string `json:"text"`
}

func explanationOf(x *resupply.Explanation) *Explanation {
	if x == nil {
		return nil
	}
	date := decidingOf(&resupply.Deciding{Path: x.Path, Lines: x.Lines, Steps: x.Steps})
	return &Explanation{x.Guard, x.Path, date.Lines, date.Steps, decidingOf(x.Need), decidingOf(x.Room)}
}

func decidingOf(d *resupply.Deciding) *Deciding {
	if d == nil {
		return nil
	}
	out := &Deciding{Path: d.Path, Lines: []ExplanationLine{}, Steps: []ExplanationStep{}}
	for _, l := range d.Lines {
		l.Events = list(l.Events)
		out.Lines = append(out.Lines, ExplanationLine{l, l.Text()})
	}
	for _, s := range d.Steps {
		out.Steps = append(out.Steps, ExplanationStep{s, s.Text()})
	}
	return out
}
