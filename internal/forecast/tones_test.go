package forecast

import (
	"math"
	"testing"
)

// The reference is the library's sine and cosine of the multiples of the angle.
func TestOvertonesAreTheHarmonicsAboveTheSeason(t *testing.T) {
	for day := -400; day < 800; day += 7 {
		row := harmonicRow(day)
		above := overtonesOf(&row)
		for k := harmonics + 1; k <= 2*harmonics; k++ {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) * (float64(day) + 0.5) / daysPerYear)
			within(t, "sine", above[2*(k-harmonics-1)], sin, 1e-12)
			within(t, "cosine", above[2*(k-harmonics-1)+1], cos, 1e-12)
		}
	}
}

// The reference is the sum of the products themselves, over days and weights without any order.
func TestSumsOfTonesGiveTheSumsOfProducts(t *testing.T) {
	r := random(74)
	var sums tones
	var want [nHarmonic][nHarmonic]float64
	for range 50 {
		row, weight := harmonicRow(r.IntN(4000)), r.Float64()
		above := overtonesOf(&row)
		sums[0] += weight
		addTimes(sums[1:], row[:nHarmonic], weight)
		addTimes(sums[1+nHarmonic:], above[:], weight)
		for i := range nHarmonic {
			for j := range nHarmonic {
				want[i][j] += weight * row[i] * row[j]
			}
		}
	}
	for i := range nHarmonic {
		for j := range nHarmonic {
			within(t, "sum of products", sums.product(i, j), want[i][j], 1e-12)
		}
	}
}

// The reference is the form worked out product by product.
func TestAQuadraticFormOfHarmonicsIsASumOfTones(t *testing.T) {
	r := random(75)
	var lower [nSeason]season
	for i := range nHarmonic {
		for j := range i + 1 {
			lower[i][j] = r.NormFloat64()
		}
	}
	form := formOf(&lower)
	for range 50 {
		row := harmonicRow(r.IntN(4000))
		above := overtonesOf(&row)
		want := 0.0
		for i := range nHarmonic {
			for j := range i + 1 {
				want += lower[i][j] * row[i] * row[j]
			}
		}
		within(t, "form", form.at(&row, &above), want, 1e-12)
	}
}

// A plant whose days come with degree days has more coefficients than harmonics: the same sums, by rows added as whole ones.
func TestDaysAddToTheNormalEquationsWhatAnyRowDoes(t *testing.T) {
	const days = 800
	r := random(76)
	c := climateOf(days, r)
	for name, cold := range map[string][]Cold{"harmonics alone": nil, "with cold": c.every(1, 0, days)} {
		var observations []observation
		for _, i := range alaska().live(epoch, days, r).every(1, 0, days) {
			observations = append(observations, observation{Interval: i})
		}
		f := newFit(observations, known{weather: newWeather(cold, float64(epoch)+days)}, float64(epoch)+days, flatPrior())
		if !f.begin() {
			t.Fatal("no fit")
		}
		data, right := f.normalEquations()
		for i := range f.rows {
			f.rows[i].overtones = nil
		}
		wantData, wantRight := f.normalEquations()
		for i := range data.rows {
			for j, want := range wantData.rows[i] {
				within(t, name+": entry", data.rows[i][j], want, 1e-9*(1+math.Abs(wantData.rows[i][len(wantData.rows[i])-1])))
			}
		}
		for i, want := range wantRight {
			within(t, name+": right side", right[i], want, 1e-9*(1+math.Abs(want)))
		}
	}
}
