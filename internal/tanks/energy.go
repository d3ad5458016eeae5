package tanks

import (
	"maps"
	"slices"
	"strings"

	"overwinter/internal/units"
)

// Megajoules is an amount of heat.
type Megajoules float64

// MegajoulesPerLitre is the heat in a litre of fuel at a base.
type MegajoulesPerLitre float64

// JoulesPerBtu is the Btu of the International Table, exact from the pound and the calorie (from memory).
const JoulesPerBtu = 1055.05585262

// BtuPerGallon turns a heat content in Btu per US gallon, as American sources print it, into MJ per litre.
func BtuPerGallon(btu float64) MegajoulesPerLitre {
	return MegajoulesPerLitre(btu * JoulesPerBtu / 1e6 / units.LitresPerUSGallon)
}

// BtuPerGallon turns a heat content back into Btu per US gallon.
func (m MegajoulesPerLitre) BtuPerGallon() float64 {
	return float64(m) * units.LitresPerUSGallon * 1e6 / JoulesPerBtu
}

// HeatContent is the heat that a fuel gives when it burns, per litre at a base. Gross counts the heat of the
// steam in the exhaust, which no engine gets; net leaves it out. American statistics are gross, European net. Every
// figure carries its source with the edition; "from memory" or "computed" where it is.
type HeatContent struct {
	Gross, Net             MegajoulesPerLitre
	Base                   Base // of the litre; blank is 15 °C
	GrossSource, NetSource string
}

const (
	sourceDOE   = "US Department of Energy, as quoted at bizfluent.com how-6195532; edition not stated there"
	sourceC1    = "40 CFR 98, Table C-1, as amended 9 December 2016 (81 FR 89188): "
	sourceRatio = "computed: the gross in the proportion of No. 2, 128,450 to 137,380"
)

// netOfGross is the share of the gross heat that is net, of No. 2 diesel: the two of one source.
const netOfGross = 128_450. / 137_380

var heats = map[string]HeatContent{
	"diesel-1-s15": kerosene("kerosene 0.135 MMBtu/gal, taken for No. 1 diesel, which is as light; the same table's 0.139 " +
		"for distillate No. 1 would put it above No. 2"),
	"diesel-2-s15":  {BtuPerGallon(137_380), BtuPerGallon(128_450), Base60F, sourceDOE, sourceDOE},
	"diesel-arctic": kerosene("kerosene 0.135 MMBtu/gal, taken for arctic diesel, which is as light"),
	"diesel-en590": {36 / netOfGross, 36, Base15C, "computed: the net in the proportion of No. 2, 137,380 to 128,450",
		"Directive (EU) 2018/2001, Annex III: diesel 36 MJ/L; from memory"},
	"jet-a1": kerosene("kerosene-type jet fuel 0.135 MMBtu/gal; EIA prints the same as 5.67 MMBtu/bbl"),
}

func kerosene(why string) HeatContent {
	gross := BtuPerGallon(135_000)
	return HeatContent{gross, gross * netOfGross, Base60F, sourceC1 + why, sourceRatio}
}

// HeatContentOf gives the heat content to reckon with for a grade by its code, as the ledger's products are coded:
// diesel-1-s15, diesel-2-s15, diesel-arctic, diesel-en590 and jet-a1. Fuels of one grade differ by 2 %; where a
// laboratory has measured the fuel its figure is better. It refuses a grade without one and lists those known.
func HeatContentOf(grade string) (HeatContent, error) {
	h, known := heats[grade]
	if !known {
		return HeatContent{}, invalid("the heat content is not known", "grade", "%q: expected one of %s, or give the heat content itself",
			grade, strings.Join(slices.Sorted(maps.Keys(heats)), ", "))
	}
	return h, nil
}

// Energy is the heat in a quantity of fuel.
type Energy struct{ Gross, Net Megajoules }

// mostHeat is more than any liquid fuel holds in a litre.
const mostHeat MegajoulesPerLitre = 60

func (h *HeatContent) check() error {
	if h.Base != "" && h.Base != Base15C && h.Base != Base20C && h.Base != Base60F {
		return invalid("the energy cannot be told", "base", "%q is no base of a heat content: expected 15C, 20C or 60F", string(h.Base))
	}
	if h.Net > 0 && h.Net <= h.Gross && h.Gross <= mostHeat {
		return nil
	}
	return invalid("the energy cannot be told", "heat content", "net %s and gross %s MJ per litre: expected 0 < net ≤ gross ≤ %s",
		plain(h.Net), plain(h.Gross), plain(mostHeat))
}

// of gives the heat in a standard volume of a fuel. What is a litre at one base is more or less at another, in the
// proportion of the densities.
func (h *HeatContent) of(v LitresAtBase, fuel *Corrector) Energy {
	base := h.Base
	if base == "" {
		base = Base15C
	}
	litres := float64(v) * fuel.density / fuel.densityAt(base)
	return Energy{Megajoules(litres * float64(h.Gross)), Megajoules(litres * float64(h.Net))}
}
