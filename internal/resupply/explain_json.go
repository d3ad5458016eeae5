package resupply

import (
	"encoding/json"
	"fmt"
	"slices"
)

// UnmarshalJSON reads an explanation that was saved. One that holds a kind which there is not, or a step
// without a value that it speaks of, is of another version: it is an error, and no half of it is shown.
func (x *Explanation) UnmarshalJSON(body []byte) error {
	type plain Explanation
	var read plain
	if err := json.Unmarshal(body, &read); err != nil {
		return err
	}
	parts := []*Deciding{{Lines: read.Lines, Steps: read.Steps}, read.Need, read.Room}
	for _, part := range parts {
		if err := part.check(); err != nil {
			return err
		}
	}
	*x = Explanation(read)
	return nil
}

func (d *Deciding) check() error {
	if d == nil {
		return nil
	}
	for _, l := range d.Lines {
		for _, e := range l.Events {
			if err := e.check(); err != nil {
				return err
			}
		}
	}
	for _, s := range d.Steps {
		if err := s.check(); err != nil {
			return err
		}
	}
	return nil
}

func (e Event) check() error {
	if !slices.Contains(EventKinds(), e.Kind) || (e.Kind == OrderArrives) != (e.Order != "") {
		return fmt.Errorf("explanation: %+v is no event", e)
	}
	return nil
}

func (s Step) check() error {
	said := s.speaks()
	for _, k := range spoken {
		if k.kind == s.Kind && k.of == said {
			return nil
		}
	}
	if before, ok := spokenBefore[s.Kind]; ok && before == said {
		return nil
	}
	return fmt.Errorf("explanation: step %q, with values %b, is none", s.Kind, said)
}
