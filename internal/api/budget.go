package api

import (
	"context"

	"github.com/danielgtaylor/huma/v2"

	"overwinter/internal/advice"
	"overwinter/internal/budget"
	"overwinter/internal/calendar"
	"overwinter/internal/fault"
	"overwinter/internal/notice"
)

// BudgetQuestion asks for the budget at a price.
type BudgetQuestion struct {
	Conditional
	Price    float64 `query:"price" exclusiveMinimum:"0" exclusiveMaximum:"1000000" doc:"Price of a litre at 15 °C in major units of the currency. Left out, the price that the budget was made with." example:"1.62"`
	Currency string  `query:"currency" pattern:"^[A-Z]{3}$" patternDescription:"three capital letters, an ISO 4217 code" doc:"Goes with price." example:"CAD"`
}

// BudgetAnswer is the coming consumption in litres and money by fiscal month.
type BudgetAnswer struct {
	Head
	Price        *advice.Price       `json:"price"`
	Fleet        BudgetFigures       `json:"fleet"`
	Plants       []PlantBudgetAnswer `json:"plants"`
	ModelVersion string              `json:"model_version"`
	Seed         uint64              `json:"seed"`
}

// PlantBudgetAnswer is one plant's budget; nil figures where there is no usage to forecast from.
type PlantBudgetAnswer struct {
	Plant   string         `json:"plant"`
	Name    string         `json:"name"`
	Figures *BudgetFigures `json:"budget"`
	Notices notice.List    `json:"notices"`
}

// BudgetFigures is the consumption of one plant or of all.
type BudgetFigures struct {
	Months []BudgetMonth `json:"months"`
	Years  []BudgetYear  `json:"years"`
	Total  Amount        `json:"total"`
}

// BudgetMonth is one calendar month.
type BudgetMonth struct {
	Month      calendar.Month `json:"month"`
	FiscalYear int            `json:"fiscal_year"`
	Amount
	Cumulative Amount `json:"cumulative"`
}

// BudgetYear is the months of one fiscal year that the budget counts.
type BudgetYear struct {
	FiscalYear int            `json:"fiscal_year"`
	First      calendar.Month `json:"first_month"`
	Last       calendar.Month `json:"last_month"`
	Months     int            `json:"months_counted"`
	Whole      bool           `json:"whole"`
	Amount
}

// Amount is litres and what they cost; no money where no price is known.
type Amount struct {
	Litres budget.Range       `json:"litres_l15"`
	Money  *budget.MoneyRange `json:"money_minor"`
}

func (a *API) budgetOperation() {
	register(a, huma.Operation{
		OperationID: "get-budget", Path: "/budget", Tags: []string{"Advice"},
		Summary: "Litres and money by fiscal month",
		Description: "The coming consumption of every plant and of all together as ranges: months, fiscal years and the total. " +
			"A range over several months is that of their sum, not the sum of their ranges.",
	}, plantErrors(), a.getBudget)
}

// Resolve checks the query.
func (q *BudgetQuestion) Resolve(ctx huma.Context) []error { return q.number(ctx, "price", "1.62") }

func (a *API) getBudget(ctx context.Context, q *BudgetQuestion) (*BudgetAnswer, error) {
	if (q.Price == 0) != (q.Currency == "") {
		return nil, fault.New(fault.Invalid, "a price needs a currency, and a currency a price").
			With(fault.Field{Where: "query.currency", Message: "give price and currency together, or neither"})
	}
	in, err := a.Desk.InForce(ctx)
	if err != nil {
		return nil, err
	}
	if in.Budget == nil {
		return nil, fault.New(fault.NotFound, "there is no budget yet: wait for the first forecast of the whole fleet")
	}
	b := *in.Budget
	if q.Currency != "" {
		b = b.At(advice.Price{PerLitre: q.Price, Currency: q.Currency})
	}
	answer := budgetAnswer(b)
	answer.Notices.Add(in.BudgetNotices()...)
	return answer, nil
}

func budgetAnswer(b advice.FleetBudget) *BudgetAnswer {
	answer := &BudgetAnswer{
		Head: Head{
			AsOf: &b.AsOf, Basis: basis15, Quality: advice.NoAnswer, Notices: notice.List{},
			Assumptions: []string{"consumption alone: neither the stock in hand nor orders on their way are counted"},
		},
		Plants: []PlantBudgetAnswer{}, ModelVersion: b.ModelVersion, Seed: b.Seed,
	}
	priced := b.Price.PerLitre > 0 && b.Price.Currency != ""
	if priced {
		answer.Price = &b.Price
	} else {
		answer.Notices.Add(notice.New(notice.Info, "no-price", "budget", "no price is known: give price and currency to see money"))
	}
	answer.Fleet = figures(b.Fleet, priced)
	for _, p := range b.Plants {
		of := PlantBudgetAnswer{Plant: p.Plant, Name: p.Name, Notices: list(p.Notices)}
		if p.Budget != nil {
			f := figures(*p.Budget, priced)
			of.Figures = &f
		}
		answer.Plants = append(answer.Plants, of)
	}
	answer.Quality = budgetQuality(b)
	return answer
}

// budgetQuality is that of its weakest plant; a plant without figures makes the sum too small.
func budgetQuality(b advice.FleetBudget) advice.Quality {
	known, quality := 0, advice.Sound
	for _, p := range b.Plants {
		if p.Budget == nil {
			quality = advice.Weak
			continue
		}
		known++
		for _, n := range p.Notices {
			if n.Severity != notice.Info {
				quality = advice.Weak
			}
		}
	}
	if known == 0 {
		return advice.NoAnswer
	}
	return quality
}

func figures(b budget.Budget, priced bool) BudgetFigures {
	f := BudgetFigures{Months: []BudgetMonth{}, Years: []BudgetYear{}, Total: amount(b.Total, priced)}
	for _, m := range b.Months {
		f.Months = append(f.Months, BudgetMonth{m.Month, m.FiscalYear, amount(m.Period, priced), amount(m.Cumulative, priced)})
	}
	for _, y := range b.Years {
		f.Years = append(f.Years, BudgetYear{y.FiscalYear, y.First, y.Last, y.Months, y.Whole, amount(y.Period, priced)})
	}
	return f
}

func amount(p budget.Period, priced bool) Amount {
	a := Amount{Litres: p.Litres}
	if priced {
		a.Money = &p.Money
	}
	return a
}
