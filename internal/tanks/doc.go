// Package tanks turns one gauging of one tank into fuel that can be used.
//
// A stick put into a tank gives a depth, and a depth is not yet fuel. Four steps lie between them.
//
// The shape of the tank turns depth into an observed volume: a capacity table where the tank was
// strapped, else the geometry of a lying or standing cylinder or of a box. Water lies at the bottom
// and the suction cannot reach all of the rest, so only what stands above the higher of the two is
// usable; the two overlap and are never both subtracted. The volume correction factor, chosen by the
// density of the fuel, brings the volume to 15 °C: diesel shrinks by about 5 % between a summer
// delivery at +20 °C and a winter tank at −40 °C, and without the factor that shrinkage would read as
// fuel burned. Last, every reading is a little wrong, and the [Content] says by how much: the dip,
// the table and the thermometer each add their part to one standard uncertainty.
//
// The main path is short: prepare a [Corrector] for the density of the fuel, make a [Tank] from its
// [Shape] and two levels, and [Tank.Measure] each [Reading]. [Tank.Room] answers the opposite question,
// how much more the tank may take, counted at the temperature to which the fuel may yet warm.
//
// Volumes at the temperature of the tank are [units.Litres], volumes at 15 °C [units.LitresAt15]; the
// factor is the only way from one to the other. Tanks stand at the pressure of the air, where
// the pressure factor of the standard is exactly 1; [Corrector.CPL] gives it for a line under pressure.
package tanks
