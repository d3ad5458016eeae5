package web

import (
	"context"
	"errors"
	"math"

	"overwinter/internal/advice"
	"overwinter/internal/fault"
	"overwinter/internal/resupply"
)

// changesView is what one change at a time would do to a plant's answer; without rows it offers to work that out.
type changesView struct {
	Path    string // where it is worked out
	Against string // the answer without a change
	None    string // why there is nothing to tell
	Rows    []changeRow
	Then    bool // any row has something to say of that: a column of nothing is left out
}

// changeRow is one change; Then says what it makes of the answer beside days and litres.
type changeRow struct{ Name, Days, Lot, Short, Then string }

// askChanges is the parameter with which the Plant page works the changes out: that takes longer than the page.
const askChanges = "changes"

func changesPath(id string) string { return plantPath(id) + "?" + askChanges + "=yes#changes" }

// changes asks what one change at a time would do.
func (s *Site) changes(ctx context.Context, p advice.Plant) (changesView, error) {
	got, err := s.deps.Supposer.Sensitivities(ctx, p.Plant)
	var f *fault.Error
	if errors.As(err, &f) && f.Kind == fault.Invalid {
		return changesView{None: sentence(f.Message)}, nil
	}
	if err != nil {
		return changesView{}, err
	}
	if len(got.Sensitivities) == 0 {
		return changesView{None: "Without a known stock and consumption there is nothing to work out."}, nil
	}
	now := p
	now.AsOf, now.Status, now.Order, now.Short = got.AsOf, got.Status, got.Order, got.Short
	v := changesView{Against: againstText(now)}
	for _, c := range got.Sensitivities {
		row := changeRow{changeName(c), changeDays(c, now), litresChanged(c.Lot), litresChanged(c.Short), changeThen(c, now)}
		v.Rows, v.Then = append(v.Rows, row), v.Then || row.Then != ""
	}
	return v, nil
}

// againstText is the answer that the changes are told against.
func againstText(p advice.Plant) string {
	text := string(p.Status)
	if p.Order != nil {
		text += ", order " + kL(p.Order.Lot) + " by " + longDay(p.Order.OrderBy, p.AsOf) + " for the " + delivery(p, p.Order.Route, p.Order.Window)
	}
	if p.Short != nil {
		text += ", " + kL(p.Short.Litres) + " short"
	}
	return text
}

// changeName says what is changed.
func changeName(c resupply.Sensitivity) string {
	by, more := math.Abs(c.By), "less"
	if c.By > 0 {
		more = "more"
	}
	switch c.What {
	case resupply.ChangedLead:
		return days(int(by)) + " " + more + " lead time"
	case resupply.ChangedRoom:
		return litres(by) + " " + more + " room in the tanks"
	case resupply.ChangedRisk:
		return count(int(math.Round(by)), "percentage point", "percentage points") + " " + more + " risk accepted"
	case resupply.ChangedReserve:
		return days(int(by)) + " " + more + " of reserve"
	case resupply.ChangedReserveL:
		return litres(by) + " " + more + " of reserve, a mean day’s use"
	case resupply.ChangedBurn:
		return percent(by/100) + " " + more + " burn"
	case resupply.ChangedOpening:
		if c.By < 0 {
			return "the window opens " + days(int(by)) + " earlier"
		}
		return "the window opens " + days(int(by)) + " later"
	}
	return string(c.What)
}

// changeDays says how the last day to order moves.
func changeDays(c resupply.Sensitivity, now advice.Plant) string {
	switch {
	case c.OrderByDays != nil && *c.OrderByDays == 0:
		return "same day"
	case c.OrderByDays != nil && *c.OrderByDays > 0:
		return days(*c.OrderByDays) + " later"
	case c.OrderByDays != nil:
		return days(-*c.OrderByDays) + " earlier"
	case now.Order != nil:
		return "no order"
	case c.Route != "":
		return "an order"
	}
	return none
}

// changeThen says what else is otherwise: how the plant stands, and from where the order is.
func changeThen(c resupply.Sensitivity, now advice.Plant) string {
	var said []string
	if c.Status != now.Status {
		said = append(said, string(c.Status))
	}
	if c.Route != "" && (now.Order == nil || c.Route != now.Order.Route || c.Window != now.Order.Window) {
		said = append(said, delivery(now, c.Route, c.Window))
	}
	return list(said)
}

func litres(x float64) string { return whole(x) + joint + "L" }

// litresChanged writes litres that come on top, or go.
func litresChanged(x int64) string { return changed(whole(float64(x))) }
