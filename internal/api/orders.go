package api

import (
	"context"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// OrdersAnswer is a plant's orders with all that became of them.
type OrdersAnswer struct {
	Head
	Subject
	Orders []inventory.OrderLife `json:"orders"`
}

func (a *API) ordersOperations() {
	a.orderReports()
	register(a, huma.Operation{
		OperationID: "list-orders", Path: "/plants/{plant}/orders", Tags: []string{"Books"},
		Summary: "A plant's orders, and what became of them",
		Description: "Every order with its states, when they were entered and by whom; what it was to bring and when, as first ordered and as last stated, against what its deliveries brought; and its clearances. " +
			"The newest order first. Reckoned from the ledger when it is asked for, and not saved.",
	}, plantErrors(), a.listOrders)
}

func (a *API) listOrders(ctx context.Context, q *PlantQuestion) (*OrdersAnswer, error) {
	s, err := a.openBooks(ctx, &BooksQuestion{PlantQuestion: *q})
	if err != nil {
		return nil, err
	}
	written, err := a.Ledger.OrdersWritten(ctx, q.Plant)
	if err != nil {
		return nil, err
	}
	var notes notice.List
	answer := &OrdersAnswer{Orders: s.OrderLives(written, &notes)}
	answer.Head, answer.Subject = headOfBooks(s, notes)
	return answer, nil
}
