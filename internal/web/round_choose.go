package web

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"overwinter/internal/inventory"
)

// choosePage lets the operator choose a plant.
type choosePage struct {
	Frame
	Lead   string
	Plants []plantForm
}

// plantForm is one plant with the address of its form.
type plantForm struct{ Name, Path, Read string }

var chooseTemplate = load[choosePage]("round_choose")

// chooseRound lists the plants. Where there is one alone it is chosen.
func (s *Site) chooseRound(c echo.Context) error {
	rows, err := s.deps.Ledger.Directory(c.Request().Context())
	if err != nil {
		return err
	}
	p := choosePage{
		Frame: s.frame(c, "round", "Which plant’s round?"),
		Lead:  "Each plant’s form has its own address: keep yours as a bookmark, and this page is never in the way.",
	}
	switch len(rows.Plants) {
	case 0:
		p.Title, p.Lead = "There are no plants yet", "Load a data folder with your plants, tanks and meters first; then their rounds are taken here."
	case 1:
		return c.Redirect(http.StatusSeeOther, roundPath(rows.Plants[0].ID))
	}
	for _, plant := range rows.Plants {
		p.Plants = append(p.Plants, plantForm{plant.Name, roundPath(plant.ID), s.lastRead(c, plant)})
	}
	return chooseTemplate.render(c, http.StatusOK, p)
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
