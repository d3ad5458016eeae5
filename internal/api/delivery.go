package api

import (
	"context"
	"strings"
	"time"

	"overwinter/internal/intake"
	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// DeliveryBody is fuel received from outside. Its own volume is what was agreed on.
type DeliveryBody struct {
	AmendBody
	At time.Time `json:"at"`
	VolumeBody
	Tank       *string       `json:"tank,omitempty" nullable:"true" maxLength:"64"`
	Order      *string       `json:"order,omitempty" nullable:"true" maxLength:"64"`
	Document   *string       `json:"document,omitempty" nullable:"true" maxLength:"200"`
	Product    *string       `json:"product,omitempty" nullable:"true" maxLength:"64"`
	ByDocument *VolumeBody   `json:"by_document,omitempty"`
	ByMeter    *VolumeBody   `json:"by_meter,omitempty"`
	Refused    *units.Litres `json:"refused_l,omitempty" nullable:"true"`
	Price      *float64      `json:"price_per_l,omitempty" nullable:"true"`
	Freight    *int64        `json:"freight_minor,omitempty" nullable:"true"`
	Currency   *string       `json:"currency,omitempty" nullable:"true" maxLength:"3"`
	Split      []PartBody    `json:"split,omitempty" maxItems:"50"`
	Dips       []DipsBody    `json:"dips,omitempty" maxItems:"50"`
}

// PartBody is what went into one of several tanks.
type PartBody struct {
	Tank   string       `json:"tank" minLength:"1" maxLength:"64"`
	Volume units.Litres `json:"volume_l"`
}

// DipsBody are the dips of a tank before and after a delivery.
type DipsBody struct {
	Tank   string   `json:"tank" minLength:"1" maxLength:"64"`
	Before *DipBody `json:"before,omitempty"`
	After  *DipBody `json:"after,omitempty"`
}

// DipBody is what a gauge or dip showed at a moment.
type DipBody struct {
	At time.Time `json:"at"`
	ReadBody
}

func (a *API) delivery(ctx context.Context, in *sent[DeliveryBody]) (intake.Receipt, error) {
	return a.Intake.Delivery(ctx, in.Body.delivery(in.of(in.Body.Who, in.Body.Why)))
}

func (b DeliveryBody) delivery(r intake.Report) intake.Delivery {
	d := intake.Delivery{
		Report: r, Measure: b.measure(), Replaces: text(b.Replaces), Tank: text(b.Tank), At: b.At, Order: text(b.Order),
		Document: text(b.Document), Product: inventory.Product(text(b.Product)),
		ByDocument: b.ByDocument.figure(), ByMeter: b.ByMeter.figure(), Refused: b.Refused,
		PricePerLitre: b.Price, Currency: text(b.Currency),
	}
	if b.Freight != nil {
		freight := float64(*b.Freight) / minorUnits
		d.Freight = &freight
	}
	for _, p := range b.Split {
		d.Split = append(d.Split, intake.Part{Tank: p.Tank, Volume: p.Volume})
	}
	for _, t := range b.Dips {
		d.Dips = append(d.Dips, intake.TankDips{Tank: t.Tank, Before: t.Before.dip(t.Tank), After: t.After.dip(t.Tank)})
	}
	return d
}

// minorUnits is how many minor units the major one of a currency has.
const minorUnits = 100

// figure is what a document or a meter said, nothing where nothing was stated.
func (b *VolumeBody) figure() inventory.DeliveryFigure {
	if b == nil {
		return inventory.DeliveryFigure{}
	}
	m := b.measure()
	return inventory.DeliveryFigure{Volume: &m.Volume, Temperature: m.Temperature, Basis: m.Basis}
}

func (b *DipBody) dip(tank string) *intake.Dip {
	if b == nil {
		return nil
	}
	return &intake.Dip{At: b.At, TankEntry: b.read(tank)}
}

// field turns a field as the intake names it into its place in the body.
func (b *DeliveryBody) field(name string) string {
	switch name {
	case "refused":
		return "refused_l"
	case "price":
		return "price_per_l"
	case "freight":
		return "freight_minor"
	}
	for _, figure := range []string{"document", "meter"} {
		if column, ok := strings.CutPrefix(name, figure+"_"); ok {
			return "by_" + figure + "." + withUnit(column)
		}
	}
	within, column := "", name
	if i := strings.LastIndex(name, "/"); i >= 0 {
		within, column = strings.ReplaceAll(name[:i+1], "/", "."), name[i+1:]
	}
	return within + withUnit(column)
}

func deliveryExample() DeliveryBody {
	before, after := exampleMoment.Add(-time.Hour), exampleMoment.Add(30*time.Minute)
	return DeliveryBody{
		AmendBody: AmendBody{Who: stated("A. Operator")}, At: exampleMoment,
		VolumeBody: VolumeBody{Volume: 9000, Temperature: stated(units.Celsius(-2)), Basis: stated("observed")},
		Document:   stated("BOL 4711"), Product: stated("diesel-1-s15"),
		ByDocument: &VolumeBody{Volume: 9130, Basis: stated("15C")},
		ByMeter:    &VolumeBody{Volume: 9010, Temperature: stated(units.Celsius(-2)), Basis: stated("observed")},
		Price:      stated(1.62), Freight: stated(int64(45000)), Currency: stated("CAD"),
		Split: []PartBody{{Tank: "farm-1", Volume: 4000}, {Tank: "farm-2", Volume: 5000}},
		Dips: []DipsBody{{
			Tank:   "farm-2",
			Before: &DipBody{At: before, ReadBody: ReadBody{Depth: stated(units.Millimetres(1931)), Temperature: stated(units.Celsius(-3))}},
			After:  &DipBody{At: after, ReadBody: ReadBody{Depth: stated(units.Millimetres(2230)), Temperature: stated(units.Celsius(-3))}},
		}},
	}
}
