package forecast

// tones are what products of harmonics are made of: a constant, then sin and cos of the harmonics up to twice the number of the
// highest. Sums of such products over many days follow from the sums of the tones, which are a third as many, and a quadratic form of the
// harmonics is a sum of tones.
type tones [1 + 2*nHarmonic]float64

// overtones are the harmonics of a day above those of its seasonal row.
type overtones [nHarmonic]float64

// overtonesOf goes on from a seasonal row, by those of the sum of two angles.
func overtonesOf(row *season) (above overtones) {
	sin, cos := row[nHarmonic-2], row[nHarmonic-1]
	for i := 0; i < nHarmonic; i += 2 {
		above[i] = sin*row[i+1] + cos*row[i]
		above[i+1] = cos*row[i+1] - sin*row[i]
	}
	return above
}

// toneTerm is a tone in a product of harmonics.
type toneTerm struct {
	at    int
	times float64
}

// toneTerms gives for each pair of harmonic coefficients the two tones that their product is, by the identities of any table:
// 2·sin a·sin b = cos(a-b) - cos(a+b), 2·cos a·cos b = cos(a-b) + cos(a+b), 2·sin a·cos b = sin(a+b) + sin(a-b).
var toneTerms = func() (all [nHarmonic][nHarmonic][2]toneTerm) {
	sin := func(k int, times float64) toneTerm {
		switch {
		case k == 0:
			return toneTerm{}
		case k < 0:
			return toneTerm{-2*k - 1, -times}
		}
		return toneTerm{2*k - 1, times}
	}
	cos := func(k int, times float64) toneTerm { return toneTerm{2 * max(k, -k), times} }
	for i := range nHarmonic {
		for j := range nHarmonic {
			a, b := harmonicOf(i), harmonicOf(j)
			switch ofSin, ofCos := i%2 == 0, j%2 == 1; {
			case ofSin && ofCos:
				all[i][j] = [2]toneTerm{sin(a+b, 0.5), sin(a-b, 0.5)}
			case ofSin:
				all[i][j] = [2]toneTerm{cos(a-b, 0.5), cos(a+b, -0.5)}
			case ofCos:
				all[i][j] = [2]toneTerm{cos(a-b, 0.5), cos(a+b, 0.5)}
			default:
				all[i][j] = [2]toneTerm{sin(a+b, 0.5), sin(b-a, 0.5)}
			}
		}
	}
	return all
}()

// product gives the sum of the products of two harmonic coefficients from the sums of the tones.
func (t *tones) product(i, j int) float64 {
	terms := &toneTerms[i][j]
	return terms[0].times*t[terms[0].at] + terms[1].times*t[terms[1].at]
}

// formOf gives the tones that a quadratic form of the harmonics is the sum of; the lower triangle of the form stands for both.
func formOf(lower *[nSeason]season) (form tones) {
	for i := range nHarmonic {
		for j, x := range lower[i][:i+1] {
			for _, term := range toneTerms[i][j] {
				form[term.at] += term.times * x
			}
		}
	}
	return form
}

// at gives the sum of the tones on a day.
func (t *tones) at(row *season, above *overtones) float64 {
	return t[0] + dot(t[1:1+nHarmonic], row[:nHarmonic]) + dot(t[1+nHarmonic:], above[:])
}
