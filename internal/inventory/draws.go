package inventory

import (
	"math"
	"time"

	"overwinter/internal/calendar"
	"overwinter/internal/notice"
	"overwinter/internal/units"
)

// Profile is litres at 15 °C drawn a day in each calendar month, January first.
type Profile [12]units.LitresAt15

// On gives the litres of a day.
func (p Profile) On(day calendar.Day) units.LitresAt15 {
	_, month, _ := day.Civil()
	return p[month-1]
}

// How regular draws are judged; planning conventions, no source.
const (
	profileDays   = 365 // that the profile looks back
	regularDays   = 90  // that draws must span to be taken as going on all the time
	unreportedFor = 62  // days after the last report that regular draws are taken to go on unreported
)

// drawReports is what the draws of the year up to the as-of day say. Loans and what is given back are left out,
// since nobody plans them.
type drawReports struct {
	first, last calendar.Day // of the days they cover, no earlier than the year
	sum, days   [12]float64  // litres, and days covered, by month
}

func (r *drawReports) regular() bool { return r.last-r.first+1 >= regularDays }

func (b *Book) drawReports(notes *notice.List) (r drawReports, any bool) {
	from := b.AsOf - profileDays + 1
	for _, d := range b.rows.Draws {
		first, last := max(d.FirstDay, from), min(d.LastDay, b.AsOf)
		if d.Purpose == Loan || d.Purpose == Repayment || last < first {
			continue
		}
		if !any {
			r.first, r.last, any = first, last, true
		}
		r.first, r.last = min(r.first, first), max(r.last, last)
		perDay := b.at15(d.Measure, "draws", notes) / float64(d.LastDay-d.FirstDay+1)
		for day := first; day <= last; day++ {
			_, month, _ := day.Civil()
			r.sum[month-1] += perDay
		}
	}
	if !any {
		return r, false
	}
	for day := r.first; day <= r.last; day++ {
		_, month, _ := day.Civil()
		r.days[month-1]++
	}
	return r, true
}

// DrawProfile takes the coming draws to be those of the year before, by calendar month. Days before the
// first report and after the last are not known, so they do not count as days without a draw; a month
// that no report covers has the mean. Draws that span less than three months are occasional: they are
// spread over the year.
func (b *Book) DrawProfile(notes *notice.List) Profile {
	var profile Profile
	r, any := b.drawReports(notes)
	if !any {
		return profile
	}
	total, days := 0.0, 0.0
	for i := range r.sum {
		total, days = total+r.sum[i], days+r.days[i]
	}
	if !r.regular() {
		days = profileDays
	}
	thin := false
	for i := range profile {
		profile[i] = units.LitresAt15(total / days)
		switch {
		case r.regular() && r.days[i] > 0:
			profile[i] = units.LitresAt15(r.sum[i] / r.days[i])
		case r.regular():
			thin = true
		}
	}
	if thin {
		notes.Add(notice.New(notice.Info, "draws-thin", b.Plant.ID,
			"draws are reported from %s only: months without a report are taken at the mean", r.first))
	}
	return profile
}

// unreported is what regular draws have taken since the later of a moment and the last report.
func (b *Book) unreported(after time.Time, notes *notice.List) float64 {
	sum := b.unreportedBetween(after, b.close())
	if sum > 0 {
		r, _ := b.drawReports(&notice.List{})
		notes.Add(notice.New(notice.Info, "draws-unreported", b.Plant.ID,
			"draws are not reported after %s: %.0f L are taken to have left since, as in other months", r.last, sum))
	}
	return sum
}

// unreportedBetween is what regular draws have taken between two moments after the last report.
func (b *Book) unreportedBetween(after, until time.Time) float64 {
	return b.unreportedDraws().between(after, until)
}

// unreportedDraws is what regular draws are taken to go on with after the last report.
type unreportedDraws struct {
	*Book
	last    calendar.Day // of the reports
	profile Profile
	any     bool
}

func (b *Book) unreportedDraws() unreportedDraws {
	var ignored notice.List // DrawProfile gives them where the coming draws are reckoned
	r, any := b.drawReports(&ignored)
	if !any || !r.regular() || b.AsOf-r.last > unreportedFor || r.last >= b.AsOf {
		return unreportedDraws{}
	}
	return unreportedDraws{b, r.last, b.DrawProfile(&ignored), true}
}

func (u unreportedDraws) between(after, until time.Time) float64 {
	if !u.any {
		return 0
	}
	from, to, sum := math.Max(calendar.Fraction(after, u.Zone), float64(u.last+1)), calendar.Fraction(until, u.Zone), 0.0
	for day := u.last + 1; day <= u.AsOf; day++ {
		sum += float64(u.profile.On(day)) * math.Max(0, math.Min(float64(day+1), to)-math.Max(float64(day), from))
	}
	return sum
}
