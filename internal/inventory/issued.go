package inventory

import (
	"context"
	"time"

	"overwinter/internal/calendar"
)

// Issued is advice for one plant as it was issued, or the budget of the fleet. It is kept word for word
// so that what was said can be shown again and scored later.
type Issued struct {
	Plant         string       // "" for the fleet's budget
	AsOf          calendar.Day // the plant's local day that the advice is for
	ModelVersion  string
	InputsVersion string // identifies the ledger rows that it was made from
	Seed          uint64
	IssuedAt      time.Time
	Body          []byte // JSON
	// Ledger is the version of the ledger that the advice counts in: see Reader.Version. 0 stands for less than
	// any, so that what is reckoned for a day of one's choice takes the place of nothing but its like.
	Ledger int64
}

// Current is advice in force. Revision rises with each issue, so that a reader can ask for what is new.
type Current struct {
	Issued
	Revision int64
}

// IssuedStore keeps advice as issued.
type IssuedStore interface {
	// SaveAdvice keeps advice under its plant, day, model version, inputs version and seed. Where that is
	// kept already the first body and moment of issue stay. It is put in force unless what is in force counts
	// in a later version of the ledger; of two for the same version the one saved later is in force, so that
	// no clock decides. A body that is not JSON is fault.Invalid.
	SaveAdvice(ctx context.Context, issued Issued) error
	// Advice gives a plant's advice, newest first: by day, then by moment of issue (milliseconds, UTC). The
	// versions of the ledger are not given.
	Advice(ctx context.Context, plant string) ([]Issued, error)
	// CurrentAdvice gives the advice in force for a seed whose revision is above the given one, in order
	// of revision; after 0 gives all of it. IssuedAt is when it was last put in force.
	CurrentAdvice(ctx context.Context, seed uint64, after int64) ([]Current, error)
	// AdviceInForce gives the advice in force for a seed without its bodies, in order of plant. IssuedAt is
	// when it was last put in force.
	AdviceInForce(ctx context.Context, seed uint64) ([]Issued, error)
	// AdviceRevision gives the highest revision of a seed, 0 where nothing is in force. It costs one
	// look into an index.
	AdviceRevision(ctx context.Context, seed uint64) (int64, error)
	// CountsIn tells whether a plant's advice in force counts in all that the ledger holds of the plant, and
	// of routes, windows and degree days.
	CountsIn(ctx context.Context, seed uint64, plant string) (bool, error)
}
