package advice

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"strings"

	"overwinter/internal/fault"
	"overwinter/internal/notice"
)

// failedInputs stands for the inputs of a plant that a fault in the program or the store kept from its
// advice. It is due until it has another.
const failedInputs = "failed"

// stops tells whether an error ends a run: then the next plant would fare no better.
func stops(err error) bool {
	return fault.KindOf(err) == fault.Unavailable || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded)
}

// guarded does work for a plant. A panic is that plant's failure: the process has others to advise.
func guarded(i int, work func(i int) error) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fault.Wrap(fault.Internal, fmt.Errorf("panic: %v\n%s", p, debug.Stack()),
				"its forecast failed of a fault in the program: report it, with what the log says")
		}
	}()
	return work(i)
}

// noAnswer is advice that says what is wrong with a plant: one plant must not keep the others from theirs.
func (r *run) noAnswer(i int, err error) Plant {
	a := r.blank(i)
	a.Notices.Add(r.unusable(i, err))
	a.InputsVersion = failedInputs
	if fault.KindOf(err) == fault.Invalid {
		a.InputsVersion = digest("no answer", r.dir.Version(a.Plant), a.Notices, r.origin, r.opts.paths())
	}
	return a
}

// ErrSomePlants is behind the error of a run that has advised all plants but some, for a fault of the program.
var ErrSomePlants = errors.New("not all plants have an answer")

// faults are the failures that are not of the plants' own rows, each with its plant.
func (r *run) faults() error {
	var all []error
	for i, err := range r.failed {
		if err != nil && fault.KindOf(err) != fault.Invalid {
			all = append(all, fmt.Errorf("plant %s: %w", r.plants[i].ID, err))
		}
	}
	if all == nil {
		return nil
	}
	return fmt.Errorf("%w:\n%w", ErrSomePlants, errors.Join(all...))
}

// unusable says why a plant has no answer.
func (r *run) unusable(i int, err error) notice.Notice {
	return notice.New(notice.Serious, "plant-unusable", r.plants[i].ID, "it cannot be reckoned with: %s", message(err))
}

// message is what a fault and the faults behind it say to people. Other causes are for the log.
func message(err error) string {
	var said []string
	for f := (*fault.Error)(nil); errors.As(err, &f); err = f.Unwrap() {
		said = append(said, f.Message)
		for _, field := range f.Fields {
			said = append(said, field.Where+": "+field.Message)
		}
	}
	if said == nil {
		return "the program failed; its log says how"
	}
	return strings.Join(said, ": ")
}
