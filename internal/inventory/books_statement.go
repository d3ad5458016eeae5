package inventory

import (
	"fmt"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// BooksStatement is what the books of a stretch say, as machines read it. Volumes whose names end in l15 are litres at 15 °C.
type BooksStatement struct {
	BooksHead
	Finding       BooksFinding `json:"finding"`
	Balance       BooksBalance `json:"balance"`
	Months        []BooksMonth `json:"months"`
	Doubts        []BooksDoubt `json:"doubts"`
	EarlierDoubts int          `json:"earlier_doubts"`
	OpenTransfers notice.List  `json:"open_transfers"`
}

// BooksHead says which book it is, over which stretch, as known when.
type BooksHead struct {
	Product  Product    `json:"product"`
	Products []Product  `json:"products"`
	From     time.Time  `json:"from"`
	To       time.Time  `json:"to"`
	KnownAt  *time.Time `json:"known_at"`
	Version  *int64     `json:"ledger_version"`
}

// BooksFinding is a Finding as machines read it.
type BooksFinding struct {
	Verdict  Verdict           `json:"verdict"`
	Since    *time.Time        `json:"since_at"`
	Until    *time.Time        `json:"until_at"`
	Variance *units.LitresAt15 `json:"variance_l15"`
	Sigma    *units.LitresAt15 `json:"sigma_l15"`
	Z        *float64          `json:"z"`
	OneMonth bool              `json:"one_month"`
	Why      *string           `json:"why"`
}

// BooksBalance is a Balance as machines read it: nothing is known of the lines where there are no two counts.
type BooksBalance struct {
	From *time.Time `json:"from_at"`
	To   *time.Time `json:"to_at"`

	Opening      *units.LitresAt15 `json:"opening_l15"`
	Received     *units.LitresAt15 `json:"received_l15"`
	Consumed     *units.LitresAt15 `json:"consumed_l15"`
	Drawn        *units.LitresAt15 `json:"drawn_l15"`
	Repaid       *units.LitresAt15 `json:"repaid_l15"`
	Changed      *units.LitresAt15 `json:"changed_l15"`
	Moved        *units.LitresAt15 `json:"moved_l15"`
	OutOfService *units.LitresAt15 `json:"out_of_service_l15"`
	Book         *units.LitresAt15 `json:"book_l15"`
	Physical     *units.LitresAt15 `json:"physical_l15"`

	Metered  bool              `json:"metered"`
	Variance *units.LitresAt15 `json:"variance_l15"`
	Sigma    *units.LitresAt15 `json:"sigma_l15"`
	Z        *float64          `json:"z"`
	Beyond   *bool             `json:"beyond"`
	// Corrected is what count corrections wrote off, and Remaining the variance less that.
	Corrected *units.LitresAt15 `json:"corrected_l15"`
	Remaining *units.LitresAt15 `json:"remaining_l15"`
	Sources   *BooksSources     `json:"sources"`
	LeftOut   int               `json:"movements_left_out"`
	Screen    *BooksScreen      `json:"monthly_screen"`
	Why       *string           `json:"why"`
}

// BooksDoubt is a Doubt as machines read it.
type BooksDoubt struct {
	Kind    Kind      `json:"kind"`
	Key     string    `json:"key"`
	At      time.Time `json:"at"`
	Cause   Cause     `json:"cause"`
	Scope   Scope     `json:"scope"`
	Found   float64   `json:"found"`
	Low     float64   `json:"low"`
	High    *float64  `json:"high"`
	Unit    string    `json:"unit"`
	Subject string    `json:"subject"`
	Message string    `json:"message"`
}

// BooksSources are Sources as machines read them.
type BooksSources struct {
	Meter       units.LitresAt15 `json:"meter_l15"`
	Dips        units.LitresAt15 `json:"dips_l15"`
	Table       units.LitresAt15 `json:"table_l15"`
	Temperature units.LitresAt15 `json:"temperature_l15"`
	Density     units.LitresAt15 `json:"density_l15"`
	Movements   units.LitresAt15 `json:"movements_l15"`
}

// BooksScreen is a Screen that applies, with its scope.
type BooksScreen struct {
	Throughput units.LitresAt15 `json:"throughput_l15"`
	Limit      units.LitresAt15 `json:"limit_l15"`
	Beyond     bool             `json:"beyond"`
	Scope      string           `json:"scope"`
}

// BooksMonth is a line of the table.
type BooksMonth struct {
	Month calendar.Month `json:"month"`
	BooksBalance
	Since    *time.Time        `json:"since_at"`
	Sum      *units.LitresAt15 `json:"sum_l15"`
	SumSigma *units.LitresAt15 `json:"sum_sigma_l15"`
	SumZ     *float64          `json:"sum_z"`
}

// ScreenScope says what the monthly screen is, and is not.
const ScreenScope = "1.0 % of the month's throughput and 130 US gallons: a rule for underground tanks of filling stations " +
	"(40 CFR 280.43(a)). Beside a plant's tanks above ground it is a yardstick, and no leak test."

// Head says which book it is.
func (s *Stretch) Head() BooksHead {
	h := BooksHead{Product: s.Product, Products: s.Products, From: s.From.UTC(), To: s.To.UTC()}
	if h.Products == nil {
		h.Products = []Product{}
	}
	if s.KnownAt != nil {
		known := s.KnownAt.UTC()
		h.KnownAt, h.Version = &known, &s.Version.Number
	}
	return h
}

// Statement states a table, with what looks wrong and what still runs.
func (s *Stretch) Statement(t BalanceTable) BooksStatement {
	all := BooksStatement{BooksHead: s.Head(), Finding: findingFor(t.Finding), Balance: balanceFor(t.Whole),
		Months: []BooksMonth{}, Doubts: []BooksDoubt{}, OpenTransfers: notice.List{}}
	for _, m := range t.Months {
		all.Months = append(all.Months, monthFor(m, s.Zone))
	}
	inside, before := s.Inside()
	all.EarlierDoubts = before
	for _, d := range inside {
		all.Doubts = append(all.Doubts, BooksDoubt{d.Kind, d.Key, d.At.UTC(), d.Cause, d.Scope, d.Found, d.Low, d.High, d.Unit, d.Subject, d.Message})
	}
	all.OpenTransfers = append(all.OpenTransfers, s.OpenTransfers()...)
	return all
}

// Assumptions lists what was taken for given, for people.
func (s *Stretch) Assumptions() []string {
	return []string{
		fmt.Sprintf("density %.0f kg/m³ at 15 °C", float64(s.Plant.DensityOf(s.Product))),
		fmt.Sprintf("fuel at %.0f °C where no temperature was read", float64(s.Plant.FuelTemperature())),
		fmt.Sprintf("meters and movements certain to %.1f %% (one standard deviation)", 100*MovementPrecision),
	}
}

func findingFor(f Finding) BooksFinding {
	said := BooksFinding{Verdict: f.Verdict, OneMonth: f.OneMonth, Why: stated(f.Why)}
	if f.Verdict != NoVariance {
		since, until := f.Since.UTC(), f.Until.UTC()
		said.Since, said.Until, said.Variance, said.Sigma, said.Z = &since, &until, &f.Variance, &f.Sigma, &f.Z
	}
	return said
}

func balanceFor(b Balance) BooksBalance {
	said := BooksBalance{Metered: b.Metered, LeftOut: b.LeftOut, Why: stated(b.Why)}
	if b.From.IsZero() {
		return said
	}
	from, to := b.From.UTC(), b.To.UTC()
	said.From, said.To = &from, &to
	said.Opening, said.Received, said.Consumed, said.Drawn, said.Repaid = &b.Opening, &b.Received, &b.Consumed, &b.Drawn, &b.Repaid
	said.Corrected, said.Changed, said.Moved, said.OutOfService = &b.Corrected, &b.Changed, &b.Moved, &b.OutOfService
	said.Book, said.Physical = &b.Book, &b.Physical
	if b.Known {
		beyond, sources := Beyond(b.Z), BooksSources(b.Sources)
		said.Variance, said.Sigma, said.Z, said.Beyond, said.Sources = &b.Variance, &b.Sigma, &b.Z, &beyond, &sources
		said.Remaining = &b.Remaining
	}
	if b.Screen.Applies {
		said.Screen = &BooksScreen{b.Screen.Throughput, b.Screen.Limit, b.Screen.Beyond, ScreenScope}
	}
	return said
}

func monthFor(m BalanceLine, zone *time.Location) BooksMonth {
	said := BooksMonth{Month: calendar.MonthOf(calendar.DayOf(m.Asked[0], zone)), BooksBalance: balanceFor(m.Balance)}
	if m.Known {
		since := m.Since.UTC()
		said.Since, said.Sum, said.SumSigma, said.SumZ = &since, &m.Sum, &m.SumSigma, &m.SumZ
	}
	return said
}

// stated is nil for a text that says nothing.
func stated(text string) *string {
	if text == "" {
		return nil
	}
	return &text
}
