package inventory

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

// Clearance is a gate that an order must pass, such as credit, a signature or a permit. That it was given is a row
// that replaces the one before.
type Clearance struct {
	Entry
	Plant string `json:"plant"`
	Order string `json:"order"`
	Name  string `json:"clearance"` // credit, signature, permit or another; unique within the order
	// LastSafeOn is the last day on which it may still come so that the order's dates hold. Nil means TakesDays
	// before the day by which the order must be placed.
	LastSafeOn *calendar.Day `json:"last_safe_on,omitempty"`
	TakesDays  *int          `json:"takes_days,omitempty"` // from when it is asked for; nil means 0
	ClearedOn  *calendar.Day `json:"cleared_on,omitempty"` // nil: not given yet
	By         string        `json:"by,omitempty"`         // who gives it
	Note       string        `json:"note,omitempty"`
}

// Kind tells that the row is a clearance.
func (c *Clearance) Kind() Kind { return KindClearance }

// PlantID gives the plant whose order must pass.
func (c *Clearance) PlantID() string { return c.Plant }

// ClearanceDueDays is how many days before its last safe day a clearance that is not given is told of. Common
// practice, no source.
const ClearanceDueDays = 14

// ClearanceState says how a clearance stands on a day.
type ClearanceState string

// The states of a clearance.
const (
	ClearanceGiven   ClearanceState = "cleared"
	ClearanceOpen    ClearanceState = "open"
	ClearanceDue     ClearanceState = "due"     // its last safe day is within ClearanceDueDays
	ClearanceOverdue ClearanceState = "overdue" // its last safe day has passed
	ClearanceUndated ClearanceState = "undated" // no last safe day is known
)

// ClearanceStates lists the states of a clearance.
func ClearanceStates() []ClearanceState {
	return []ClearanceState{ClearanceGiven, ClearanceOpen, ClearanceDue, ClearanceOverdue, ClearanceUndated}
}

// StandingClearance is a clearance with how it stands at the close of a day.
type StandingClearance struct {
	*Clearance
	LastSafe *calendar.Day // stated or reckoned; nil where neither
	State    ClearanceState
}

// MustBePlacedBy is the last day on which an order may be placed so that its dates hold: as stated, or its likely
// arrival less its route's median lead and slip. Nil where it states neither a day nor a route.
func (o *Order) MustBePlacedBy(dir *Directory) *calendar.Day {
	if o.OrderBy != nil {
		return o.OrderBy
	}
	route := dir.Route(o.Route)
	if route == nil {
		return nil
	}
	day := o.Likely - calendar.Day(math.Ceil(route.LeadDays+route.SlipDays))
	return &day
}

// lastSafe gives the last day on which a clearance may come, nil where none is known.
func (c *Clearance) lastSafe(o *Order, dir *Directory) *calendar.Day {
	if c.LastSafeOn != nil {
		return c.LastSafeOn
	}
	by := o.MustBePlacedBy(dir)
	if by == nil {
		return nil
	}
	day := *by - calendar.Day(orElse(c.TakesDays, 0))
	return &day
}

// standing tells how a clearance stands at the close of a day.
func (c *Clearance) standing(o *Order, dir *Directory, asOf calendar.Day) StandingClearance {
	s := StandingClearance{Clearance: c, LastSafe: c.lastSafe(o, dir), State: ClearanceOpen}
	switch {
	case c.given(asOf):
		s.State = ClearanceGiven
	case s.LastSafe == nil:
		s.State = ClearanceUndated
	case *s.LastSafe < asOf:
		s.State = ClearanceOverdue
	case *s.LastSafe-asOf <= ClearanceDueDays:
		s.State = ClearanceDue
	}
	return s
}

func (c *Clearance) given(asOf calendar.Day) bool { return c.ClearedOn != nil && *c.ClearedOn <= asOf }

// ClearancesOf gives an order's clearances as they stand at the close of the as-of day, the most pressing first.
func (b *Book) ClearancesOf(o *Order, dir *Directory) []StandingClearance {
	var all []StandingClearance
	for _, c := range b.rows.Clearances {
		if c.Order == o.ID {
			all = append(all, c.standing(o, dir, b.AsOf))
		}
	}
	return sortedStanding(all)
}

func sortedStanding(all []StandingClearance) []StandingClearance {
	last := func(s StandingClearance) calendar.Day { return orElse(s.LastSafe, math.MaxInt32) }
	slices.SortStableFunc(all, func(x, y StandingClearance) int {
		return cmp.Or(cmp.Compare(last(x), last(y)), strings.Compare(x.Order, y.Order), strings.Compare(x.Name, y.Name))
	})
	return all
}

// Clearances gives the clearances of every order that is there by the as-of day and not over, and tells of those that press.
func (b *Book) Clearances(dir *Directory, notes *notice.List) []StandingClearance {
	var all []StandingClearance
	known := map[string]bool{}
	for _, o := range b.rows.Orders {
		known[o.ID] = true
		if o.State.Over() || o.OrderedOn > b.AsOf {
			continue
		}
		for _, s := range b.ClearancesOf(o, dir) {
			all = append(all, s)
			notes.Add(s.notices(o, b.AsOf)...)
		}
	}
	for _, c := range b.rows.Clearances {
		if !known[c.Order] {
			notes.Add(notice.New(notice.Caution, "clearance-of-no-order", c.subject(),
				"there is no order %q at this plant: check the order's id, enter the order, or withdraw the clearance", c.Order))
		}
	}
	return sortedStanding(all)
}

func (c *Clearance) subject() string { return "order " + c.Order + ", " + c.Name }

// notices tells what presses about a clearance.
func (s StandingClearance) notices(o *Order, asOf calendar.Day) notice.List {
	switch s.State {
	case ClearanceOverdue:
		return notice.List{notice.New(notice.Serious, "clearance-overdue", s.subject(),
			"it is not given, and its last safe day was %s: the order, expected about %s, may come later. Get it now, or state new dates", *s.LastSafe, o.Likely)}
	case ClearanceDue:
		return notice.List{notice.New(notice.Caution, "clearance-due", s.subject(),
			"it is not given, and must be by %s, in %d days, so that the order can come about %s", *s.LastSafe, *s.LastSafe-asOf, o.Likely)}
	case ClearanceUndated:
		return notice.List{notice.New(notice.Info, "clearance-undated", s.subject(),
			"it is not given, and nothing says by when it must be: state its last safe day, or the order's order_by or route")}
	}
	return nil
}
