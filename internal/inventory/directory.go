package inventory

// Directory finds plants, tanks, meters and routes by id.
type Directory struct {
	rows   Rows
	plants map[string]*Plant
	tanks  map[[2]string]*Tank
	meters map[[2]string]*Meter
	routes map[string]*Route
}

// NewDirectory indexes rows; of two rows with one id the later in the slice is found.
func NewDirectory(rows Rows) *Directory {
	d := &Directory{
		rows:   rows,
		plants: map[string]*Plant{},
		tanks:  map[[2]string]*Tank{},
		meters: map[[2]string]*Meter{},
		routes: map[string]*Route{},
	}
	for _, p := range rows.Plants {
		d.plants[p.ID] = p
	}
	for _, t := range rows.Tanks {
		d.tanks[[2]string{t.Plant, t.ID}] = t
	}
	for _, m := range rows.Meters {
		d.meters[[2]string{m.Plant, m.ID}] = m
	}
	for _, r := range rows.Routes {
		d.routes[r.ID] = r
	}
	return d
}

// Plant finds a plant, nil if there is none.
func (d *Directory) Plant(id string) *Plant { return d.plants[id] }

// Tank finds a tank of a plant, nil if there is none.
func (d *Directory) Tank(plant, id string) *Tank { return d.tanks[[2]string{plant, id}] }

// Meter finds a meter of a plant, nil if there is none.
func (d *Directory) Meter(plant, id string) *Meter { return d.meters[[2]string{plant, id}] }

// Route finds a supply route, nil if there is none.
func (d *Directory) Route(id string) *Route { return d.routes[id] }

// Plants lists the plants in the order of the rows.
func (d *Directory) Plants() []*Plant { return d.rows.Plants }

// TanksOf lists a plant's tanks in the order of the rows.
func (d *Directory) TanksOf(plant string) []*Tank {
	var found []*Tank
	for _, t := range d.rows.Tanks {
		if t.Plant == plant {
			found = append(found, t)
		}
	}
	return found
}

// MetersOf lists a plant's meters in the order of the rows.
func (d *Directory) MetersOf(plant string) []*Meter {
	var found []*Meter
	for _, m := range d.rows.Meters {
		if m.Plant == plant {
			found = append(found, m)
		}
	}
	return found
}

// RoutesOf lists the routes that serve a plant, in the order of the services.
func (d *Directory) RoutesOf(plant string) []*Route {
	var found []*Route
	for _, s := range d.rows.Services {
		if r := d.routes[s.Route]; s.Plant == plant && r != nil {
			found = append(found, r)
		}
	}
	return found
}

// WindowsOf lists a route's windows in the order of the rows.
func (d *Directory) WindowsOf(route string) []*Window {
	var found []*Window
	for _, w := range d.rows.Windows {
		if w.Route == route {
			found = append(found, w)
		}
	}
	return found
}

// PastOf lists what is known of a window's past seasons, in the order of the rows.
func (d *Directory) PastOf(route, window string) []*PastWindow {
	var found []*PastWindow
	for _, p := range d.rows.PastWindows {
		if p.Route == route && p.Name == window {
			found = append(found, p)
		}
	}
	return found
}

// LimitsOf lists what bounds the lots of a window, in the order of the rows.
func (d *Directory) LimitsOf(route, window string) []*WindowLimit {
	var found []*WindowLimit
	for _, l := range d.rows.WindowLimits {
		if l.Route == route && l.Name == window {
			found = append(found, l)
		}
	}
	return found
}

// LimitsOfRoute lists what bounds the lots of all windows of a route, in the order of the rows.
func (d *Directory) LimitsOfRoute(route string) []*WindowLimit {
	var found []*WindowLimit
	for _, l := range d.rows.WindowLimits {
		if l.Route == route {
			found = append(found, l)
		}
	}
	return found
}

// SpendingOf lists what bounds a plant's orders, in the order of the rows.
func (d *Directory) SpendingOf(plant string) []*SpendingLimit {
	var found []*SpendingLimit
	for _, l := range d.rows.SpendingLimits {
		if l.Plant == plant {
			found = append(found, l)
		}
	}
	return found
}
