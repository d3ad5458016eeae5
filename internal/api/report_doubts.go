package api

import (
	"math"
	"time"

	"overwinter/internal/intake"
	"overwinter/internal/inventory"
)

// ReportDoubt is what the books doubt about a row after a report.
type ReportDoubt struct {
	Kind    inventory.Kind  `json:"kind"`
	Key     string          `json:"key"`
	At      time.Time       `json:"at"`
	Cause   inventory.Cause `json:"cause"`
	Scope   inventory.Scope `json:"scope" enum:"row,run,energy"`
	Found   *float64        `json:"found"`
	Low     *float64        `json:"low"`
	High    *float64        `json:"high"`
	Unit    *string         `json:"unit"`
	Subject string          `json:"subject"`
	Message string          `json:"message"`
}

// SettledDoubt is a doubt that a report has settled.
type SettledDoubt struct {
	Kind  inventory.Kind  `json:"kind"`
	Key   string          `json:"key"`
	Cause inventory.Cause `json:"cause"`
}

func doubtsOf(r intake.Receipt) []ReportDoubt {
	all := []ReportDoubt{}
	for _, d := range r.Doubts {
		doubt := ReportDoubt{
			Kind: d.Kind, Key: d.Key, At: d.At, Cause: d.Cause, Scope: d.Scope, Subject: d.Subject, Message: d.Message,
		}
		if d.Unit != "" { // a row that stands twice is no matter of a figure
			doubt.Found, doubt.Low, doubt.Unit = finite(&d.Found), finite(&d.Low), &d.Unit
			doubt.High = finite(d.High)
		}
		all = append(all, doubt)
	}
	return all
}

// finite leaves out a figure that JSON cannot hold, such as the energy of a litre where there is next to no litre.
func finite(v *float64) *float64 {
	if v == nil || math.IsNaN(*v) || math.IsInf(*v, 0) {
		return nil
	}
	return v
}

func settledOf(r intake.Receipt) []SettledDoubt {
	all := []SettledDoubt{}
	for _, s := range r.Settled {
		all = append(all, SettledDoubt{s.Kind, s.Key, s.Cause})
	}
	return all
}
