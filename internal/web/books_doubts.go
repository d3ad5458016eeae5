package web

import (
	"errors"
	"net/http"
	"net/url"
	"strings"

	"github.com/labstack/echo/v4"

	"overwinter/internal/fault"
	"overwinter/internal/intake"
	"overwinter/internal/inventory"
)

// doubtView is a row that looks wrong, with the form by which somebody says that it is right.
type doubtView struct {
	ID                        int
	When, Kind, Subject, Text string
	Of, Row                   string
	Again                     string // where the round is entered again, "" for a row that came by another way
	Key, Who, Why             string
	WhoWrong, WhyWrong        string
	Open                      bool
}

func (w bookWords) doubts(all []inventory.Doubt) []doubtView {
	var rows []doubtView
	for i, d := range all {
		rows = append(rows, doubtView{ID: i + 1, When: w.clock(d.At), Kind: string(d.Kind), Subject: d.Subject, Text: capital(w.doubt(d)),
			Of: string(d.Kind), Row: d.Key, Again: w.again(d.Key), Key: newKey()})
	}
	return rows
}

// again is the address at which the round of a row is entered again: see the keys of intake.
func (w bookWords) again(key string) string {
	parts := strings.Split(key, "/")
	if len(parts) != 4 || parts[0] != "round" || !strings.HasPrefix(parts[2], "form-") {
		return ""
	}
	return roundPath(w.plant) + "?again=" + url.QueryEscape(parts[2])
}

// confirmRow writes that a row which looks wrong is right, by whom and why.
func (s *Site) confirmRow(c echo.Context) error {
	v, err := sent(c)
	if err != nil {
		return err
	}
	_, err = s.deps.Intake.Confirm(c.Request().Context(), intake.Confirmation{
		Report: intake.Report{Key: v.Get("key"), Plant: plantID(c), Who: strings.TrimSpace(v.Get("who")), Why: strings.TrimSpace(v.Get("why"))},
		Kind:   inventory.Kind(v.Get("of")), Row: v.Get("row"),
	})
	if err == nil {
		v.Set("done", "confirmed")
		return c.Redirect(http.StatusSeeOther, booksPath(plantID(c))+asked(v, "from", "to", "product", "done"))
	}
	var f *fault.Error
	if !errors.As(err, &f) || f.Kind != fault.Invalid && f.Kind != fault.Conflict {
		return err
	}
	v.Del("known") // what is confirmed is what is known now
	stretch, opening := s.openBooks(c, v)
	if opening != nil {
		return opening
	}
	page := s.booksOf(c, stretch, v)
	page.refuse(v, f)
	return booksTemplate.render(c, f.Kind.Status(), page)
}

// refuse puts what is wrong with a confirmation beside its fields, and what was typed into them.
func (p *booksPage) refuse(v url.Values, f *fault.Error) {
	wrong := map[string]string{}
	for _, one := range f.Fields {
		wrong[one.Where] = sentence(one.Message)
	}
	for i := range p.Doubts {
		d := &p.Doubts[i]
		if d.Of != v.Get("of") || d.Row != v.Get("row") {
			continue
		}
		d.Open, d.Who, d.Why = true, v.Get("who"), v.Get("why")
		if f.Kind == fault.Invalid { // nothing is written under it
			d.Key = v.Get("key")
		}
		d.WhoWrong, d.WhyWrong = wrong["who"], wrong["why"]
		if d.WhoWrong+d.WhyWrong != "" {
			return
		}
	}
	p.Wrong = sentence(f.Message)
	for _, one := range f.Fields {
		p.Wrong += " " + sentence(one.Where+": "+one.Message)
	}
}
