package inventory

import "math"

// doubtEnergyRegisters looks through the registers of generated energy, which run on from round to round.
func (b *Book) doubtEnergyRegisters() {
	var rounds []*Round
	for _, r := range b.rows.Rounds {
		if r.EnergyRegister != nil && r.At.Before(b.close()) {
			rounds = append(rounds, r)
		}
	}
	var rates []rate
	for i := 1; i < len(rounds); i++ {
		if run := *rounds[i].EnergyRegister - *rounds[i-1].EnergyRegister; run > 0 {
			rates = append(rates, rate{midway(rounds[i-1].At, rounds[i].At), run / daysBetween(rounds[i-1].At, rounds[i].At)})
		}
	}
	usual := newUsualRates(rates)
	kept, changed := chain(len(rounds), func(i int) bool { return b.isConfirmed(rounds[i]) }, func(i, j int) step {
		before, now := rounds[i], rounds[j]
		run, days := *now.EnergyRegister-*before.EnergyRegister, daysBetween(before.At, now.At)
		u := usual.at(midway(before.At, now.At))
		if run < 0 || u.known && run > u.far*days && !b.isConfirmed(now) {
			return step{}
		}
		return step{follows: true, roughness: days * math.Pow(run/days-u.middle, 2)}
	})
	at := 0
	for i, r := range rounds {
		if at < len(kept) && kept[at] == i {
			if changed[at] {
				b.doubtEnergyRegister(rounds[kept[at-1]], r)
			}
			at++
			continue
		}
		var before *Round
		if at > 0 {
			before = rounds[kept[at-1]]
		}
		b.doubtEnergyRegister(before, r)
	}
}

func (b *Book) doubtEnergyRegister(before, r *Round) {
	d := Doubt{At: r.At, Cause: BeyondBurn, Scope: EnergyFigure, Found: *r.EnergyRegister, Unit: "kWh", Subject: "plant " + b.Plant.ID + ", rounds"}
	words := "the energy register does not go with the readings after it"
	if before != nil {
		d.Low = *before.EnergyRegister
		words = "that is far more than the plant makes"
		if d.Found < d.Low {
			d.Cause, words = GoingBackwards, causeWords[GoingBackwards]
		}
	}
	d.Message = "the energy register showed " + figure(d.Found) + " kWh on " + b.day(r.At) + ": " + words + todo(EnergyFigure, "")
	b.doubt(r, d)
}
