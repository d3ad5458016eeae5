// Package notice holds the warnings that travel with a result: thin data, a stale reading, a clipped
// lot. A notice is no error: the result stands, and says what is wrong with it.
package notice

import (
	"fmt"
	"slices"
)

// Severity says how much a notice matters to the reader.
type Severity string

// The severities.
const (
	Info    Severity = "info"    // worth knowing
	Caution Severity = "caution" // the result is weaker for it
	Serious Severity = "serious" // a person should act on it
)

// Notice is one warning.
type Notice struct {
	Severity Severity `json:"severity"`
	Code     string   `json:"code"`    // stable, for machines: reading-stale
	Subject  string   `json:"subject"` // what it is about: a plant, a tank, a file and row
	Message  string   `json:"message"` // for people
	Count    int      `json:"count"`   // how often it was raised; 1 or more
}

// New makes a notice.
func New(severity Severity, code, subject, format string, args ...any) Notice {
	return Notice{Severity: severity, Code: code, Subject: subject, Message: fmt.Sprintf(format, args...), Count: 1}
}

// List collects notices in the order in which they were first raised.
type List []Notice

// AddOnce appends the notices of another reckoning of the same rows: one that is there already is not counted again.
func (l *List) AddOnce(more ...Notice) {
	for _, n := range more {
		if !slices.ContainsFunc(*l, n.same) {
			*l = append(*l, n)
		}
	}
}

// same tells whether two notices tell the same of the same thing.
func (n Notice) same(o Notice) bool { return n.Code == o.Code && n.Subject == o.Subject }

// Add appends notices. One with the code and subject of an earlier one is counted there: the first
// message stands for all.
func (l *List) Add(more ...Notice) {
	for _, n := range more {
		if i := slices.IndexFunc(*l, n.same); i >= 0 {
			(*l)[i].Count += n.Count
			continue
		}
		*l = append(*l, n)
	}
}
