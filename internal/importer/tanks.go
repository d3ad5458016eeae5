package importer

import (
	"overwinter/internal/inventory"
	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

var tankSheet = define("tanks.csv", []column{
	{name: "plant", need: always}, {name: "tank", need: always}, {name: "role", need: filled},
	{name: "shape", need: filled}, {name: "product"},
	{name: "diameter", in: &units.Length}, {name: "length", in: &units.Length},
	{name: "width", in: &units.Length}, {name: "height", in: &units.Length},
	{name: "capacity", in: &units.Volume},
	{name: "safe_fill_depth", in: &units.Length}, {name: "safe_fill", in: &units.Volume},
	{name: "suction_depth", in: &units.Length}, {name: "unusable", in: &units.Volume},
	{name: "fill_start", in: &units.Volume}, {name: "fill_stop", in: &units.Volume},
	{name: "low_level", in: &units.Volume}, {name: "fill_minutes"},
	{name: "reference_height", in: &units.Length}, {name: "own_share"}, {name: "out_from"}, {name: "back_on"},
}, func(r *row) *inventory.Tank {
	plant := r.text("plant")
	return &inventory.Tank{
		Entry:           r.entry(),
		Plant:           plant,
		ID:              r.text("tank"),
		Role:            code[inventory.Role](r, "role"),
		Product:         r.productOr(plant),
		Shape:           code[inventory.ShapeKind](r, "shape"),
		Diameter:        maybe[units.Millimetres](r, "diameter"),
		Length:          maybe[units.Millimetres](r, "length"),
		Width:           maybe[units.Millimetres](r, "width"),
		Height:          maybe[units.Millimetres](r, "height"),
		Capacity:        maybe[units.Litres](r, "capacity"),
		SafeFillDepth:   maybe[units.Millimetres](r, "safe_fill_depth"),
		SafeFillVolume:  maybe[units.Litres](r, "safe_fill"),
		SuctionDepth:    maybe[units.Millimetres](r, "suction_depth"),
		UnusableVolume:  maybe[units.Litres](r, "unusable"),
		FillStart:       maybe[units.Litres](r, "fill_start"),
		FillStop:        maybe[units.Litres](r, "fill_stop"),
		LowLevel:        maybe[units.Litres](r, "low_level"),
		FillMinutes:     maybe[float64](r, "fill_minutes"),
		ReferenceHeight: maybe[units.Millimetres](r, "reference_height"),
		OwnShare:        maybe[float64](r, "own_share"),
		OutFrom:         r.day("out_from"),
		BackOn:          r.day("back_on"),
	}
}, func(t *inventory.Tank) string { return key(t.Plant, t.ID) }).directory().to(plantSheet, capacitySheet)

// productOr gives the row's product, or else the plant's.
func (r *row) productOr(plant string) inventory.Product {
	if product := code[inventory.Product](r, "product"); product != "" {
		return product
	}
	if p := r.run.dir.Plant(plant); p != nil {
		return p.Product
	}
	return ""
}

// capacitySheet holds no ledger rows: its points become part of their tank's row.
var capacitySheet = &sheet{
	file: "capacity.csv",
	columns: []column{
		{name: "plant", need: always}, {name: "tank", need: always},
		{name: "depth", need: always, in: &units.Length}, {name: "volume", need: always, in: &units.Volume},
	},
	referred: true,
	build: func(r *row) record {
		id := tankID{r.text("plant"), r.text("tank")}
		p := point{
			Point: tanks.Point{Depth: value[units.Millimetres](r, "depth"), Volume: value[units.Litres](r, "volume")},
			table: r.table,
			line:  r.line,
		}
		if !r.bad {
			r.run.addPoint(id, p)
		}
		return nil
	},
}

type tankID struct{ plant, tank string }

// point is one row of a capacity table.
type point struct {
	tanks.Point
	table *table
	line  int
}

func (p point) problem(column, format string, args ...any) {
	p.table.unread(p.line, column, format, args...)
}

// addPoint puts a point to its tank's others; a point that does not rise above them is refused.
func (r *run) addPoint(id tankID, p point) {
	if before := r.points[id]; len(before) > 0 {
		last := before[len(before)-1]
		switch {
		case p.Depth <= last.Depth:
			p.problem("depth", "the depth does not rise above that of row %d, %v mm: expected the points of a tank by rising depth", last.line, last.Depth)
		case p.Volume < last.Volume:
			p.problem("volume", "the volume falls below that of row %d, %v L: expected it to rise with the depth", last.line, last.Volume)
		}
	}
	r.points[id] = append(r.points[id], p)
}

// attachPoints gives every tank of the folder its capacity table.
func (r *run) attachPoints() {
	of := map[tankID][]*inventory.Tank{}
	for _, t := range r.tables {
		for _, e := range t.rows {
			if tank, ok := e.record.(*inventory.Tank); ok && !tank.Void {
				id := tankID{tank.Plant, tank.ID}
				of[id] = append(of[id], tank)
			}
		}
	}
	for id, points := range r.points {
		if of[id] == nil && r.holes[tankSheet] {
			continue // the row may be the one that could not be read
		}
		if of[id] == nil {
			points[0].problem("tank", "tanks.csv of this folder has no tank %s of plant %s: a capacity table goes in with its tank's row", quote(id.tank), quote(id.plant))
			continue
		}
		var bare []tanks.Point
		for _, p := range points {
			bare = append(bare, p.Point)
		}
		for _, tank := range of[id] {
			tank.Table = bare
		}
	}
}
