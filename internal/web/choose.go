package web

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"overwinter/internal/inventory"
)

// destination is what a plant is chosen for.
type destination struct {
	place, title, lead string
	empty              string // what to do where there is no plant
	path               func(plant string) string
}

// choosePage lets a person choose a plant.
type choosePage struct {
	Frame
	Lead   string
	Plants []plantChoice
}

// plantChoice is one plant with the address to which it leads.
type plantChoice struct{ Name, Path, Read string }

var chooseTemplate = load[choosePage]("choose")

// choose lists the plants. Where there is one alone it is chosen.
func (s *Site) choose(to destination) echo.HandlerFunc {
	return func(c echo.Context) error {
		rows, err := s.deps.Ledger.Directory(c.Request().Context())
		if err != nil {
			return err
		}
		p := choosePage{Frame: s.frame(c, to.place, to.title), Lead: to.lead}
		switch len(rows.Plants) {
		case 0:
			p.Title, p.Lead = "There are no plants yet", to.empty
		case 1:
			return c.Redirect(http.StatusSeeOther, to.path(rows.Plants[0].ID))
		}
		for _, plant := range rows.Plants {
			p.Plants = append(p.Plants, plantChoice{plant.Name, to.path(plant.ID), s.lastRead(c, plant)})
		}
		return chooseTemplate.render(c, http.StatusOK, p)
	}
}

// lastRead says when a plant was read last, as far as its advice knows.
func (s *Site) lastRead(c echo.Context, p *inventory.Plant) string {
	zone, err := p.Location()
	a := s.inForce(c, p.ID)
	if err != nil || a == nil || a.Stock.Newest == nil {
		return ""
	}
	return "last read " + clockMoment(*a.Stock.Newest, zone, s.today(zone))
}
