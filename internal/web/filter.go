package web

import (
	"net/url"
	"slices"
	"strings"

	"overwinter/internal/advice"
	"overwinter/internal/resupply"
)

// fleetFilter is what of the fleet is asked for. It needs no script: it is a form that asks for the page
// again.
type fleetFilter struct {
	Status, Group, Text string
	Statuses, Groups    []choice
	Of, Shown           int
}

// choice is one value to choose, with how many plants have it.
type choice struct {
	Value, Name string
	Count       int
}

// filterFrom is from how many plants on a page offers to be filtered.
const filterFrom = 9

// Offered tells whether to show the form.
func (f fleetFilter) Offered() bool { return f.Of >= filterFrom || f.Active() }

// Active tells whether anything is left out on purpose.
func (f fleetFilter) Active() bool { return f.Status != "" || f.Group != "" || f.Text != "" }

func filterOf(q url.Values, plants []advice.Plant) fleetFilter {
	f := fleetFilter{
		Status: strings.TrimSpace(q.Get("status")), Group: strings.TrimSpace(q.Get("group")), Text: strings.TrimSpace(q.Get("q")),
		Of: len(plants),
	}
	groups := map[string]int{}
	statuses := map[resupply.Status]int{}
	for _, p := range plants {
		statuses[p.Status]++
		groups[p.Group]++
	}
	for _, s := range byUrgency {
		if statuses[s] > 0 || f.Status == string(s) {
			f.Statuses = append(f.Statuses, choice{string(s), string(s), statuses[s]})
		}
	}
	for id, n := range groups {
		if id != "" {
			f.Groups = append(f.Groups, choice{id, capital(plain(id)), n})
		}
	}
	slices.SortFunc(f.Groups, func(a, b choice) int { return strings.Compare(a.Value, b.Value) })
	return f
}

// lets tells whether a plant is asked for. The text is looked for in its name, id and climate group.
func (f fleetFilter) lets(p advice.Plant) bool {
	text := strings.ToLower(f.Text)
	return (f.Status == "" || f.Status == string(p.Status)) &&
		(f.Group == "" || f.Group == p.Group) &&
		(text == "" || strings.Contains(strings.ToLower(p.Name+"\n"+p.Plant+"\n"+p.Group), text))
}
