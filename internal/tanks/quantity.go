package tanks

import "overwinter/internal/units"

// LitresAtBase is a standard volume at the base of the [Procedure] that stands beside it. It is no
// [units.LitresAt15]: only where that base is 15 °C are they the same.
type LitresAtBase float64

// Accounting says by which rules a gauging becomes a quantity. Its zero value but for the fuel is what the ledger
// does: no shell, no sediment, nothing but volumes and masses.
type Accounting struct {
	Fuel     Corrector     // density and procedure, with its base and rounding
	Assumed  units.Celsius // the temperature of the fuel where none was read
	Shell    Shell         // zero: no correction
	Sediment float64       // sediment and water suspended in the fuel, in % of its standard volume, 0 to 100
	Air      AirRule       // blank is [AirExact]
	Heat     HeatContent   // zero: no energy is told
}

// Quantity is what a tank holds by the chain of API MPMS 12.1.1, as surveyors' tickets have it:
//
//	total observed − free water = gross observed, · shell factor
//	gross observed · VCF = gross standard
//	gross standard · (1 − sediment and water) = net standard
//	gross standard + free water = total calculated
//	standard volume · density at the base = mass
//
// Volumes are subtracted from volumes, never depths from depths.
type Quantity struct {
	TotalObserved   units.Litres // all liquid, water included
	FreeWater       units.Litres // under the fuel
	GrossObserved   units.Litres // the fuel as it is, corrected for the shell
	GrossStandard   LitresAtBase // the fuel at the base
	NetStandard     LitresAtBase // without sediment and water suspended in it
	TotalCalculated LitresAtBase // gross standard and free water
	Gross, Net      Mass         // of the gross and the net standard volume
	Energy          *Energy      // of the net standard volume; nil without a heat content
	Basis           Basis
}

// Basis is the record of what the figures of a [Quantity] rest on.
type Basis struct {
	Procedure          Procedure     // its Base is that of the standard volumes
	Density            units.KgPerM3 // at that base, as the procedure rounds it: masses follow from it
	VCF                float64       // as the procedure rounds it
	Gauge              Gauge
	Temperature        units.Celsius  // of the fuel, as used; before the procedure rounds it
	TemperatureAssumed bool           // nobody read it
	Shell              Shell          // zero: not corrected for
	ShellTemperature   *units.Celsius // nil: not corrected for
	ShellFactor        float64        // 1: not corrected for
	Sediment           float64        // in %
	Air                AirRule
	Heat               HeatContent        // zero: none
	WhileFilling       bool               // as of [Content]
	ReferenceOff       *units.Millimetres // as of [Content]
}

// Quantity turns a gauging into a quantity and says what it rests on. It does not know of suction and safe
// fill: it is for tickets, deliveries and surveys, where [Tank.Measure] is for stock. It refuses what Measure refuses, a sediment outside 0 to
// 100 %, a heat content that cannot be, what [Shell.Factor] and [AirRule.InAir] refuse, and a shell on a tank that
// is not known to be an upright cylinder: one that is neither a [VerticalCylinder] or [StandingCylinder] nor known by a table, with or without deadwood.
func (t Tank) Quantity(r Reading, by Accounting) (Quantity, error) {
	if err := t.Validate(); err != nil {
		return Quantity{}, err
	}
	found, err := t.levels(&r)
	if err != nil {
		return Quantity{}, err
	}
	warmth, err := r.warmth(by.Assumed)
	if err != nil {
		return Quantity{}, err
	}
	q := Quantity{TotalObserved: found.liquid, FreeWater: found.water, Basis: Basis{
		Procedure: by.Fuel.Procedure(), Density: by.Fuel.Density(by.Fuel.procedure.Base), Gauge: r.Gauge,
		Temperature: warmth.temperature, TemperatureAssumed: warmth.assumed,
		WhileFilling: r.WhileFilling, ReferenceOff: t.referenceOff(&r),
	}}
	if q.Basis.VCF, err = by.Fuel.VCF(warmth.temperature); err != nil {
		return Quantity{}, err
	}
	if err := q.shell(t.Shape, by.Shell, r.Air); err != nil {
		return Quantity{}, err
	}
	if err := q.standard(by.Sediment); err != nil {
		return Quantity{}, err
	}
	if err := q.weigh(by.Air); err != nil {
		return Quantity{}, err
	}
	if err := q.burn(by.Heat, &by.Fuel); err != nil {
		return Quantity{}, err
	}
	return q, nil
}

// shell takes the water off and corrects what is left for the shell.
func (q *Quantity) shell(s Shape, shell Shell, air *units.Celsius) error {
	q.Basis.Shell, q.Basis.ShellFactor = shell, 1
	if shell != (Shell{}) {
		if err := checkUpright(s); err != nil {
			return err
		}
		factor, err := shell.Factor(q.Basis.Temperature, air)
		if err != nil {
			return err
		}
		warmth, err := shell.Temperature(q.Basis.Temperature, air)
		if err != nil {
			return err
		}
		q.Basis.ShellFactor, q.Basis.ShellTemperature = factor, &warmth
	}
	q.GrossObserved = (q.TotalObserved - q.FreeWater) * units.Litres(q.Basis.ShellFactor)
	return nil
}

// standard brings the fuel to the base and takes the sediment off.
func (q *Quantity) standard(sediment float64) error {
	if !(sediment >= 0 && sediment <= 100) {
		return invalid("the quantity cannot be told", "sediment", "%s %%: expected 0 to 100 %% of the volume", plain(sediment))
	}
	q.Basis.Sediment = sediment
	q.GrossStandard = LitresAtBase(float64(q.GrossObserved) * q.Basis.VCF)
	q.NetStandard = q.GrossStandard * LitresAtBase(1-sediment/100)
	q.TotalCalculated = q.GrossStandard + LitresAtBase(q.FreeWater)
	return nil
}

// weigh adds the masses.
func (q *Quantity) weigh(rule AirRule) error {
	inAir, err := rule.InAir(q.Basis.Density)
	if err != nil {
		return err
	}
	if rule == "" {
		rule = AirExact
	}
	q.Basis.Air = rule
	q.Gross = massOf(q.GrossStandard, q.Basis.Density, inAir)
	q.Net = massOf(q.NetStandard, q.Basis.Density, inAir)
	return nil
}

// burn adds the energy where a heat content was given.
func (q *Quantity) burn(heat HeatContent, fuel *Corrector) error {
	if heat == (HeatContent{}) {
		return nil
	}
	if err := heat.check(); err != nil {
		return err
	}
	q.Basis.Heat, q.Energy = heat, new(heat.of(q.NetStandard, fuel))
	return nil
}
