package inventory

import (
	"strings"

	"overwinter/internal/notice"
)

// Codes of the notices about an order's life.
const (
	CodeOrderReopened    = "order-reopened" // it was over, and is counted on again
	CodeOrderSteppedBack = "order-stepped-back"
	CodeOrderJumped      = "order-jumped"       // over states of its life
	CodeOrderNotCome     = "order-not-come"     // arrived, and no delivery names it
	CodeOrderClosedShort = "order-closed-short" // closed while litres are missing
)

// OrderStepped tells what is unusual about an order's step from one state to another. Every step may be taken,
// since a wrong entry must be mendable and life is not always in order.
func OrderStepped(before, after *Order) notice.List {
	from, to := before.State, after.State
	subject := "order " + after.ID
	switch {
	case from.Means() == to.Means() || to == Cancelled:
		return nil
	case from.Over() && to.Open():
		return notice.List{notice.New(notice.Caution, CodeOrderReopened, subject,
			"order %s was %s and is %s again: the plan counts on it once more, from %s to %s", after.ID, from, to.Means(), after.Early, after.Late)}
	case from == Cancelled, to.place() < from.place():
		return notice.List{notice.New(notice.Caution, CodeOrderSteppedBack, subject,
			"order %s was %s and is %s again: check that the step back is meant", after.ID, from.Means(), to.Means())}
	}
	if over := skipped(from, to); over != "" {
		return notice.List{notice.New(notice.Info, CodeOrderJumped, subject,
			"order %s went from %s to %s without being %s: nothing is lost by it, but the moments between are not known", after.ID, from.Means(), to.Means(), over)}
	}
	return nil
}

// skipped names the states that a step leaves out.
func skipped(from, to OrderState) string {
	var words []string
	for _, s := range orderLife[from.place()+1 : to.place()] {
		words = append(words, string(s))
	}
	return strings.Join(words, " or ")
}
