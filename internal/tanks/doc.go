// Package tanks turns one gauging of one tank into fuel that can be used, and says how sure that is.
//
// A stick put into a tank gives a depth, and a depth is not yet fuel. Four steps lie between them.
//
// The [Shape] of the tank turns depth into an observed volume: a [CapacityTable] where the tank was strapped, else
// the geometry of a lying cylinder with its heads and its slope ([LyingCylinder]), of a standing one with its bottom and
// its roof ([StandingCylinder]), or of a box ([Rectangular]); with deadwood in it, joined to others by a pipe, or as
// drums that are counted. [DepthOf] goes back from a volume to its depth. Water lies at the bottom and the
// suction cannot reach all of the rest, so only what stands above the higher of the two is usable; the two overlap and
// are never both subtracted. The volume correction factor, chosen by the density of the fuel, brings the volume to 15 °C: diesel
// shrinks by about 5 % between a summer delivery at +20 °C and a winter tank at −40 °C, and without the factor that
// shrinkage would read as fuel burned. Last, every reading is a little wrong, and the Content says by how much: the dip, the
// table, the thermometer and the density each add their part to one standard uncertainty.
//
// The main path is short: prepare a [Corrector] for the density of the fuel ([NewCorrector]; a [Procedure] asks for
// another edition, group, base or rounding), make a [Tank] from its Shape and two levels, and [Tank.Measure] each
// [Reading]. [Tank.Room] answers the opposite question, how much more the tank may take, counted at the temperature to
// which the fuel may yet warm; [Tank.Limits] tells every level that matters to who fills the tank and who draws from it.
//
// Three further questions have answers of their own. [Tank.Change] is what was moved between two gaugings, with an
// uncertainty that knows what both share; its table of sensitivities says which source to improve. [Tank.Quantity] makes
// the ticket of a gauging: volumes at any base, masses, heat, and what they rest on. [DayTank] turns the level in
// the small tank beside the engines into hours until the alarm and until the engines stop.
//
// Volumes at the temperature of the tank are [units.Litres], volumes at 15 °C [units.LitresAt15]; the factor is the
// only way from one to the other. Tanks stand at the pressure of the air, where the pressure factor of the standard
// is exactly 1; [Corrector.CPL] gives it for a line under pressure.
//
// Nothing here is a custody-transfer measurement or a leak detector. The safe fill that counts is the one on the tank's
// sign; gauging and filling follow the plant's own procedure, local codes and licensed practice.
package tanks
