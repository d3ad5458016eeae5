package forecast

import "math"

// law is how a plant's use behaves in the long run. None is known beforehand: each is weighed by how well
// it explains the plant's own history.
type law struct {
	drift   float64 // standard deviation of the level's change in a year, in logs
	passing float64 // standard deviation of what raises use for some months and passes, in logs
	strange float64 // times the usual by which a season may differ from that of its climate group
}

// passingDays is the time in which a passing deviation fades to 1/e: a mild winter, a building site, a
// broken boiler. Found on monthly reports of village plants before 2019 (computed): 3 to 6 months do equally well.
const passingDays = 120.0

var stranges = []float64{1, 3, 9}

// laws are those weighed.
var laws = func() (all []law) {
	for _, drift := range []float64{0.01, 0.04, 0.08, 0.16, 0.32} {
		for _, passing := range []float64{0.02, 0.07} {
			for _, strange := range stranges {
				all = append(all, law{drift, passing, strange})
			}
		}
	}
	return all
}()

const (
	usualDrift   = 0.08
	usualPassing = 0.05
	// evidenceTrust is the power to which the evidence is taken. Rows share more than chain allows for, and
	// the noise is taken as known: on simulated plants the full evidence picked its favourite drift with
	// 72 % confidence where 66 % were right, and with this power the two agree (computed).
	evidenceTrust = 0.75
	leastWeight   = 0.005 // of a law in the posterior; below it is left out
)

// usualLaw is what a fit begins with.
var usualLaw = law{usualDrift, usualPassing, 1}

func driftPerDay(yearly float64) float64 { return yearly * yearly / daysPerYear }

// posterior is what the future starts from, given one law.
type posterior struct {
	law
	weight float64         // posterior probability of the law
	mean   [nState]float64 // log level and passing deviation at the origin, then the seasonal coefficients
	spread spread
}

// spread is an upper triangular matrix S: S·z has the posterior covariance S·Sᵀ for z standard normal. It is kept column by
// column, since a model has it for each law and a fleet has many models.
type spread [nState * (nState + 1) / 2]float64

// column gives rows 0 to j of column j.
func (s *spread) column(j int) []float64 { return s[j*(j+1)/2:][:j+1] }

const nState = 2 + nSeason

// weighLaws gives the posterior under each law whose weight matters, and moves the estimate to their mean. Belief is how
// probable each law is before any reading. Evidences are the logs of the marginal likelihoods of all laws, times
// evidenceTrust, up to a constant. The rows are taken as linear about the estimate as it stands.
func (f *fit) weighLaws(belief []float64) (kept []posterior, evidences []float64) {
	found := make([]posterior, 0, len(laws))
	logs, top := make([]float64, 0, len(laws)), math.Inf(-1)
	var moves [][]float64
	evidences = make([]float64, len(laws))
	systems := f.systems()
	for i, l := range laws {
		evidences[i] = math.Inf(-1)
		sys := &systems[i/len(stranges)]
		move, evidence, ok := sys.under(l)
		if !ok {
			continue
		}
		evidences[i] = evidenceTrust * evidence
		log := evidences[i] + math.Log(belief[i])
		if math.Exp(log-top) <= leastWeight { // left out whatever comes: its solution is spared
			continue
		}
		if !sys.finish(move) {
			evidences[i] = math.Inf(-1)
			continue
		}
		found = append(found, f.posterior(l, sys.factor, move))
		logs, top = append(logs, log), max(top, log)
		moves = append(moves, move)
	}
	mean := make([]float64, f.size())
	kept = found[:0]
	for i, w := range softmax(logs) {
		for j, x := range moves[i] {
			mean[j] += w * x
		}
		if found[i].weight = w; w > 0 {
			kept = append(kept, found[i])
		}
	}
	if len(kept) > 0 {
		f.moveTo(mean)
	}
	f.reduced = f.reduced[:0]
	return kept, evidences
}

// meanLaw gives the law whose variances are those of the posteriors in the mean.
func meanLaw(found []posterior) (l law) {
	for _, p := range found {
		l.drift += p.weight * p.drift * p.drift
		l.passing += p.weight * p.passing * p.passing
		l.strange += p.weight * p.strange * p.strange
	}
	return law{math.Sqrt(l.drift), math.Sqrt(l.passing), math.Sqrt(l.strange)}
}

// softmax gives weights in proportion to the exponentials, without those too small to matter.
func softmax(logs []float64) []float64 {
	weights := make([]float64, len(logs))
	top, sum := math.Inf(-1), 0.0
	for _, l := range logs {
		top = max(top, l)
	}
	for i, l := range logs {
		if w := math.Exp(l - top); w > leastWeight {
			weights[i] = w
			sum += w
		}
	}
	for i := range weights {
		weights[i] /= sum
	}
	return weights
}

// posterior reads mean and spread of the state at the origin. It is the last of the unknowns, so that
// with the precision L·Lᵀ its covariance is (L₂·L₂ᵀ)⁻¹ of the last block L₂ of L, and L₂⁻ᵀ is
// the spread.
func (f *fit) posterior(l law, factor envelope, move []float64) posterior {
	p := posterior{law: l}
	first, used := f.knotted()-2, 2+f.coefficients()
	copy(p.mean[:], move[first:])
	p.mean[0] += f.startLevel
	for i := range nSeason {
		p.mean[2+i] += f.prior.mean[i]
	}
	for c := used; c < nState; c++ { // what is not in use is as it was believed
		p.spread.column(c)[c] = math.Sqrt(f.seasonVariance(l, c-2))
	}
	for c := range used { // back substitution for column c of L₂⁻ᵀ
		column := p.spread.column(c)
		column[c] = 1
		for i := c; i >= 0; i-- {
			row := factor.rows[first+i]
			row = row[len(row)-i-1:]
			column[i] /= row[i]
			for k, x := range row[:i] {
				column[k] -= x * column[i]
			}
		}
	}
	return p
}
