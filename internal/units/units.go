// Package units holds the typed quantities of the product. A volume at the temperature it was
// measured at and the same volume corrected to 15 °C have one dimension and two meanings, so they
// are two types: mixing them does not compile.
package units

// Litres is an observed volume: at whatever temperature the fuel had when it was measured.
type Litres float64

// LitresAt15 is a standard volume: corrected to 15 °C.
type LitresAt15 float64

// LitresPerHour is the rate of a burn or a pump, in observed litres per hour.
type LitresPerHour float64

// Millimetres is a depth or a length.
type Millimetres float64

// Celsius is a temperature.
type Celsius float64

// DegreeDays is a sum of heating degree days, in °C·d.
type DegreeDays float64

// Kilowatts is electric power.
type Kilowatts float64

// KgPerM3 is a density; at 15 °C unless the name says otherwise.
type KgPerM3 float64

// KiloPascals is a pressure above that of the air.
type KiloPascals float64

// Exact conversion factors.
const (
	// LitresPerUSGallon follows from 1 US gal = 231 in³ and 1 in = 25.4 mm.
	LitresPerUSGallon = 3.785411784
	// LitresPerImperialGallon is the definition of the imperial gallon.
	LitresPerImperialGallon = 4.54609
	// LitresPerBarrel is 42 US gallons.
	LitresPerBarrel = 42 * LitresPerUSGallon
	// MillimetresPerInch is the definition of the inch.
	MillimetresPerInch = 25.4
	// MillimetresPerFoot is twelve inches.
	MillimetresPerFoot = 12 * MillimetresPerInch
	// KiloPascalsPerPSI is the pound of 0.45359237 kg at 9.80665 m/s² on a square inch.
	KiloPascalsPerPSI = 0.45359237 * 9.80665 / (MillimetresPerInch * MillimetresPerInch) * 1000
)

// Fahrenheit converts a temperature in °F: t °C = (t °F − 32) / 1.8.
func Fahrenheit(t float64) Celsius { return Celsius((t - 32) / 1.8) }
