package tanks

import (
	"fmt"
	"math"
	"strconv"

	"overwinter/internal/fault"
)

// invalid makes the error of an input that cannot be used: what fails, the field, and what was found
// and expected there.
func invalid(what, where, format string, args ...any) error {
	return fault.New(fault.Invalid, "%s", what).With(fault.Field{
		Where: where, Message: fmt.Sprintf(format, args...),
	})
}

// plain writes a number as people do: no exponent, at most three decimals.
func plain[T ~float64](x T) string {
	return strconv.FormatFloat(math.Round(float64(x)*1000)/1000, 'f', -1, 64)
}
