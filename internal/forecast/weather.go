package forecast

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

const (
	weatherDays      = 700 // of degree days, from which on what is usual of a season is known
	mostCold         = 200 // degree days a day, of °F or °C: more is a slip
	weatherHarmonics = 2   // of what is usual
	coldSD           = 0.3 // prior standard deviation of the effect of a day twice as cold as the mean of the year on the log rate
)

// weather is how much colder than usual each day was, over the mean of the year: a day with half the mean year's daily degree
// days more than is usual at its time of year is at 0.5. The zero weather is unknown.
type weather struct {
	firstDay int
	colder   []float64 // 0 where nothing was observed
	years    int       // whole ones observed at the end
}

// newWeather compares degree days that end by the origin with what is usual: a regression of their daily means on a
// constant and two yearly harmonics, each span with the weight of its days. Spans
// that cannot be are left out. Less than weatherDays of them tell nothing.
func newWeather(observed []Cold, origin float64) (w weather) {
	var spans []Cold
	days, sum := 0.0, 0.0
	for _, c := range observed {
		if c.End <= origin+1e-9 && c.End > c.Start && c.Start > origin-oldestDays && c.DegreeDays >= 0 && c.DegreeDays <= mostCold*(c.End-c.Start) {
			spans = append(spans, c)
			days += c.End - c.Start
			sum += c.DegreeDays
		}
	}
	if days < weatherDays || sum <= 0 {
		return weather{}
	}
	usual := usualCold(spans)
	first, last := spans[0].Start, spans[0].End
	for _, c := range spans {
		first, last = min(first, c.Start), max(last, c.End)
	}
	w.firstDay = int(math.Floor(first))
	w.colder = make([]float64, int(math.Ceil(last))-w.firstDay)
	for _, c := range spans {
		row := coldRow(c)
		colder := (c.DegreeDays/(c.End-c.Start) - dot(usual, row[:])) / (sum / days)
		for day := int(math.Floor(c.Start + 0.5)); float64(day) < c.End-0.5; day++ {
			w.colder[day-w.firstDay] = colder
		}
	}
	w.years = int((last - first) / daysPerYear)
	return w
}

const nCold = 1 + 2*weatherHarmonics

// coldRow gives a constant and the yearly harmonics, averaged over the days of a span.
func coldRow(c Cold) (row [nCold]float64) {
	row[0] = 1
	from, to := math.Floor(c.Start), math.Ceil(c.End)
	for day := from; day < to; day++ {
		harmonics := harmonicRow(int(day))
		addTimes(row[1:], harmonics[:nCold-1], 1/(to-from))
	}
	return row
}

// usualCold gives the coefficients of the degree days a day that are usual.
func usualCold(spans []Cold) []float64 {
	rows, means := mat.NewDense(len(spans), nCold, nil), mat.NewVecDense(len(spans), nil)
	for i, c := range spans {
		days := c.End - c.Start
		row := coldRow(c)
		for j, x := range row {
			rows.Set(i, j, x*math.Sqrt(days))
		}
		means.SetVec(i, c.DegreeDays/math.Sqrt(days))
	}
	var usual mat.VecDense
	if err := usual.SolveVec(rows, means); err != nil {
		return make([]float64, nCold)
	}
	return usual.RawVector().Data
}

// on gives how much colder than usual a day was; 0 where that is not known.
func (w *weather) on(day int) float64 {
	if i := day - w.firstDay; i >= 0 && i < len(w.colder) {
		return w.colder[i]
	}
	return 0
}

// weatherYears are the fewest observed years from which the weather to come is drawn.
const weatherYears = 3

// ahead gives how much colder than usual the days from start to end would be if each year after the origin were one of those
// observed: element y-1 for that of y years before. The mean over the years is taken off, and the rest widened for that, so
// that few years neither shift a forecast nor narrow it. Nil where too few years were observed.
func (w *weather) ahead(start, end, origin float64) []float64 {
	if w.years < weatherYears {
		return nil
	}
	colder := make([]float64, w.years)
	mean := 0.0
	for y := range colder {
		back := (float64(y) + 1 + yearAhead(start, origin)) * daysPerYear
		for day := math.Floor(start); day < end; day++ {
			colder[y] += (min(end, day+1) - max(start, day)) / (end - start) * w.on(int(math.Floor(day+0.5-back)))
		}
		mean += colder[y] / float64(w.years)
	}
	widen := math.Sqrt(float64(w.years) / float64(w.years-1))
	for y := range colder {
		colder[y] = widen * (colder[y] - mean)
	}
	return colder
}

// yearAhead gives in which year after the origin a moment lies, from 0.
func yearAhead(at, origin float64) float64 { return max(math.Floor((at-origin)/daysPerYear), 0) }

// winter gives the weights of the observed years, as ahead has them, that make the coming year colder than the share q of them: two
// neighbours in the order of their mean over the year, as a quantile of definition 7 (Hyndman and Fan 1996) lies between two values.
func (w *weather) winter(q, origin float64) []float64 {
	colder := w.ahead(origin, origin+daysPerYear, origin)
	order := make([]int, len(colder))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(colder[a], colder[b]) })
	at := q * float64(len(order)-1)
	left := min(int(at), len(order)-2)
	weights := make([]float64, len(order))
	weights[order[left]], weights[order[left+1]] = 1-(at-float64(left)), at-float64(left)
	return weights
}
