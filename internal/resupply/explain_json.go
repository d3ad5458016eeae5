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
	for _, l := range read.Lines {
		for _, e := range l.Events {
			if err := e.check(); err != nil {
				return err
			}
		}
	}
	for _, s := range read.Steps {
		if err := s.check(); err != nil {
			return err
		}
	}
	*x = Explanation(read)
	return nil
}

func (e Event) check() error {
	if !slices.Contains(EventKinds(), e.Kind) || (e.Kind == OrderArrives) != (e.Order != "") {
		return fmt.Errorf("explanation: %+v is no event", e)
	}
	return nil
}

func (s Step) check() error {
	for _, k := range spoken {
		if k.kind == s.Kind && k.of == s.speaks() {
			return nil
		}
	}
	return fmt.Errorf("explanation: step %q, with values %b, is none", s.Kind, s.speaks())
}
