package scenario

import (
	"strings"

	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// equipment reads a plant, a tank or a meter, nil where the line is about none.
func (s *script) equipment(l *line) inventory.Record {
	switch {
	case l.next("plant"):
		return s.newPlant(l)
	case l.next("tank"):
		return s.newTank(l)
	case l.next("meter"):
		m := &inventory.Meter{
			Plant: s.plant.ID, ID: l.word(), Digits: int(orZero(quantity[float64](l, "digits", ""))), LitresPerCount: 1,
			Factor: orZero(quantity[float64](l, "factor", "")), Compensated: l.flag("compensated"),
		}
		if c := quantity[float64](l, "count", "L"); c != nil {
			m.LitresPerCount = *c
		}
		return m
	}
	return nil
}

func (s *script) newPlant(l *line) inventory.Record {
	p := &inventory.Plant{
		ID: l.word(), Zone: l.text("zone"), Product: inventory.Product(l.text("product")),
		Density15:          quantity[units.KgPerM3](l, "density", "kg/m3"),
		AssumedTemperature: quantity[units.Celsius](l, "assumed", "C"),
	}
	p.Name = p.ID
	zone, err := p.Location()
	if err != nil {
		l.fault("the plant's zone: %v", err)
		return nil
	}
	s.plant, s.zone = p, zone
	return p
}

func (s *script) newTank(l *line) inventory.Record {
	t := &inventory.Tank{
		Plant: s.plant.ID, ID: l.word(), Product: s.plant.Product,
		Capacity: quantity[units.Litres](l, "capacity", "L"), Table: l.table(),
		Diameter: quantity[units.Millimetres](l, "diameter", "mm"), Height: quantity[units.Millimetres](l, "height", "mm"),
		ReferenceHeight: quantity[units.Millimetres](l, "reference", "mm"),
		SuctionDepth:    quantity[units.Millimetres](l, "suction", "mm"),
		UnusableVolume:  quantity[units.Litres](l, "unusable", "L"), OutFrom: l.day("out from"), BackOn: l.day("back on"),
		Length: quantity[units.Millimetres](l, "length", "mm"), Width: quantity[units.Millimetres](l, "width", "mm"),
		OwnShare: quantity[float64](l, "own share", ""),
	}
	if product := l.text("product"); product != "" {
		t.Product = inventory.Product(product)
	}
	for _, role := range []inventory.Role{inventory.Storage, inventory.Intermediate, inventory.DayTank} {
		if l.flag(string(role)) {
			t.Role = role
		}
	}
	switch {
	case t.Table != nil:
		t.Shape = inventory.ShapeTable
	case t.Capacity != nil:
		t.Shape = inventory.ShapeVolume
	case t.Length != nil && t.Width != nil:
		t.Shape = inventory.ShapeRectangular
	case t.Length != nil:
		t.Shape = inventory.ShapeHorizontal
	default:
		t.Shape = inventory.ShapeVertical
	}
	return t
}

// table reads "0 mm 0 L / 1 000 mm 16 000 L".
func (l *line) table() []tanks.Point {
	said, ok := l.take("table")
	if !ok {
		return nil
	}
	var points []tanks.Point
	for row := range strings.SplitSeq(said, " / ") {
		depth, volume, _ := strings.Cut(row, " mm ")
		of := parse(l.number, "row: depth "+depth+" mm, volume "+volume, l.zone)
		points = append(points, tanks.Point{
			Depth: needed[units.Millimetres](of, "depth", "mm"), Volume: needed[units.Litres](of, "volume", "L"),
		})
		l.faults = append(l.faults, of.faults...)
	}
	return points
}

func orZero[T any](v *T) (zero T) {
	if v == nil {
		return zero
	}
	return *v
}
