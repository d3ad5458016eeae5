package intake

import (
	"context"
	"fmt"
	"math"
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/units"
)

// Delivery is fuel received from outside. Its measure is what was agreed on.
type Delivery struct {
	Report
	inventory.Measure
	Replaces            string // key of the delivery's row that it corrects, "" for none
	Tank                string // "" where it was split over tanks
	At                  time.Time
	Order               string // the order that it fulfils, "" for none
	Document            string
	Product             inventory.Product        // "" where it is the tank's, or the plant's
	ByDocument, ByMeter inventory.DeliveryFigure // what the document and a meter said of the whole
	Refused             *units.Litres            // sent back
	// Price of a litre as stated, and freight of the whole, in major units of the currency.
	PricePerLitre, Freight *float64
	Currency               string
	Split                  []Part     // what went into each tank; none where Tank says it all, or nobody knows
	Dips                   []TankDips // of the tanks that took it
}

// Part is what went into one of several tanks, as stated: at the temperature and basis of the whole.
type Part struct {
	Tank   string
	Volume units.Litres
}

// TankDips are the dips of a tank before and after a delivery; each may be missing.
type TankDips struct {
	Tank          string
	Before, After *Dip
}

// Dip is a gauging at a moment of its own.
type Dip struct {
	At time.Time
	TankEntry
}

// Delivery writes fuel received from outside: a row for each tank that took of it, and the dips.
func (d *Desk) Delivery(ctx context.Context, v Delivery) (Receipt, error) {
	key := rowKey("delivery", v.Plant, v.Key)
	s, err := d.open(ctx, "delivery", key, v.Report)
	if err != nil {
		return Receipt{}, err
	}
	at := s.moment(v.At)
	whole := v.row(s.correction(key, v.Replaces), at)
	if len(v.Split) == 0 {
		s.add(whole, asIs)
	} else {
		s.addParts(v, whole)
	}
	s.addDips(v, at)
	return s.file(ctx, at)
}

// row is the delivery as one row.
func (v Delivery) row(e inventory.Entry, at time.Time) *inventory.Delivery {
	return &inventory.Delivery{
		Entry: e, Measure: v.Measure, Plant: v.Plant, Tank: v.Tank, At: at, Order: v.Order, Document: v.Document,
		Product: v.Product, ByDocument: v.ByDocument, ByMeter: v.ByMeter, Refused: v.Refused,
		PricePerLitre: v.PricePerLitre, Freight: v.Freight, Currency: v.Currency,
	}
}

// splitTolerance is how far the parts of a delivery may lie from the whole, for rounding. Common practice, no source.
const splitTolerance units.Litres = 1

// addParts adds a row for each part. What is said of the whole stands in the first row alone, and once there counts
// for all rows of the document.
func (s *sheet) addParts(v Delivery, whole *inventory.Delivery) {
	s.checkParts(v)
	seen := map[string]bool{}
	for i, part := range v.Split {
		field := fmt.Sprintf("split/%d", i)
		if part.Tank == "" || seen[part.Tank] {
			s.refuseEver(field+"/tank", "blank, or given twice: expected each tank that took of the delivery once")
			continue
		}
		seen[part.Tank] = true
		row := *whole
		row.Tank, row.Volume = part.Tank, part.Volume
		row.Key = rowKey("delivery", v.Plant, v.Key, part.Tank)
		if i > 0 {
			row.Replaces, row.Refused, row.Freight = "", nil, nil
			row.ByDocument, row.ByMeter = inventory.DeliveryFigure{}, inventory.DeliveryFigure{}
			if row.PricePerLitre == nil {
				row.Currency = ""
			}
		}
		s.add(&row, partField(field))
	}
}

// checkParts checks that the parts make the whole.
func (s *sheet) checkParts(v Delivery) {
	if v.Tank != "" {
		s.refuseEver("tank", "the delivery is split over tanks: leave the one tank out, or the split")
	}
	if v.Document == "" && (v.ByDocument.Volume != nil || v.ByMeter.Volume != nil) {
		s.refuseEver("document", "blank: a delivery that is split over tanks needs its document, by which its parts are held against the document's and the meter's figure")
	}
	var sum units.Litres
	for _, part := range v.Split {
		sum += part.Volume
	}
	if apart := math.Abs(float64(sum - v.Volume)); !(apart <= float64(splitTolerance)) {
		s.refuseEver("split", "the parts are %s together and the delivery is %s: expected the same, but for %s of rounding",
			amount(float64(sum), "L"), amount(float64(v.Volume), "L"), amount(float64(splitTolerance), "L"))
	}
}

// partField turns a column of a part's row into a field of the report.
func partField(field string) func(column string) string {
	return func(column string) string {
		if column == "tank" || column == "volume" {
			return field + "/" + column
		}
		return column
	}
}

// addDips adds the gaugings before and after a delivery.
func (s *sheet) addDips(v Delivery, at time.Time) {
	seen := map[string]bool{}
	for i, of := range v.Dips {
		field := fmt.Sprintf("dips/%d", i)
		switch {
		case of.Tank == "" || seen[of.Tank]:
			s.refuseEver(field+"/tank", "blank, or given twice: expected each tank once")
			continue
		case of.Before == nil && of.After == nil:
			s.refuseEver(field+"/before", "neither a dip before nor one after: give at least one, or leave the tank out")
		}
		seen[of.Tank] = true
		if of.Before != nil {
			if !of.Before.At.Before(at) {
				s.refuseEver(field+"/before/at", "not before the delivery: expected a moment before it")
			}
			s.addDip(v, of.Tank, *of.Before, "before", field)
		}
		if of.After != nil {
			if of.After.At.Before(at) {
				s.refuseEver(field+"/after/at", "before the delivery: expected its moment, or a later one")
			}
			s.addDip(v, of.Tank, *of.After, "after", field)
		}
	}
}

func (s *sheet) addDip(v Delivery, tank string, dip Dip, when, field string) {
	dip.Tank = tank
	e := s.entry(rowKey("delivery", v.Plant, v.Key, tank, when))
	s.add(gauging(e, v.Plant, dip.TankEntry, dip.At), func(column string) string {
		if column == "tank" {
			return field + "/tank"
		}
		return field + "/" + when + "/" + column
	})
}
