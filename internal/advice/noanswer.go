package advice

import (
	"errors"
	"strings"

	"overwinter/internal/fault"
	"overwinter/internal/notice"
)

// orNoAnswer gives the advice as it is, or, where the plant's own rows are what is wrong, advice that says
// so: one plant must not keep the others from theirs. Any other error stays one.
func (r *run) orNoAnswer(i int, a Plant, err error) (Plant, error) {
	if err == nil || fault.KindOf(err) != fault.Invalid {
		return a, err
	}
	a = r.blank(i)
	a.Notices.Add(r.unusable(i, err))
	a.InputsVersion = digest("no answer", r.dir.Version(a.Plant), a.Notices, r.origin, r.opts.paths())
	return a, nil
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
	return strings.Join(said, ": ")
}
