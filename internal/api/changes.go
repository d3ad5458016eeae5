package api

import (
	"context"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/inventory"
)

// Ledger is what the API reads of the ledger.
type Ledger interface {
	inventory.Reader
	RowsWritten(ctx context.Context, after int64, limit int) ([]inventory.Written, error)
	inventory.OrderReader
}

// ChangesAnswer is a page of the ledger's rows in the order of writing.
type ChangesAnswer struct {
	Rows []ChangedRow `json:"rows"`
	Next int64        `json:"next"`
}

// ChangedRow is one row of the ledger.
type ChangedRow struct {
	Position   int64          `json:"position"`
	Kind       inventory.Kind `json:"kind"`
	Key        string         `json:"key"`
	Plant      *string        `json:"plant"`
	Replaces   *string        `json:"replaces"`
	Void       bool           `json:"void"`
	Who        *string        `json:"who"`
	Why        *string        `json:"why"`
	RecordedAt time.Time      `json:"recorded_at"`
}

// ChangesQuestion asks for the rows after a position.
type ChangesQuestion struct {
	Conditional
	After int64 `query:"after" minimum:"0" maximum:"9007199254740991" default:"0" doc:"Only rows written after this position: the next of the page before; 0 for the first page." example:"0"`
	Limit int   `query:"limit" minimum:"1" maximum:"10000" default:"1000" doc:"At most so many rows." example:"100"`
}

func (a *API) changesOperation() {
	register(a, huma.Operation{
		OperationID: "list-changes", Path: "/changes", Tags: []string{"Ledger"},
		Summary: "The ledger's rows in the order of writing",
		Description: "Rows of every kind after a position, in force or not: which row, of which plant, by whom and why, and which row it replaces. " +
			"Each row comes once, and none that is written later takes a place before one that has come: who asks again with next misses nothing.",
	}, []int{http.StatusServiceUnavailable}, a.changes)
}

func (a *API) changes(ctx context.Context, q *ChangesQuestion) (*ChangesAnswer, error) {
	written, err := a.Ledger.RowsWritten(ctx, q.After, q.Limit)
	if err != nil {
		return nil, err
	}
	answer := &ChangesAnswer{Rows: []ChangedRow{}, Next: q.After}
	for _, w := range written {
		answer.Rows = append(answer.Rows, ChangedRow{
			Position: w.Position, Kind: w.Kind, Key: w.Key, Plant: known(w.Plant), Replaces: known(w.Replaces), Void: w.Void,
			Who: known(w.Who), Why: known(w.Why), RecordedAt: w.RecordedAt,
		})
		answer.Next = w.Position
	}
	return answer, nil
}

// known is nil for a text that was not stated.
func known(text string) *string {
	if text == "" {
		return nil
	}
	return &text
}
