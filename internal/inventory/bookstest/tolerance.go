package bookstest

import (
	"math/big"
	"regexp"

	"overwinter/internal/inventory"
)

var plainNumber = regexp.MustCompile(`^\d+(\.\d+)?$`)

// Tolerance reads a share with another reader than strconv. It may be taken where it lies in the range, and must be where it is
// written plainly, too.
func Tolerance(text string) (share float64, may, must bool) {
	if text == "" {
		return inventory.AgreedTolerance, true, true
	}
	x, _, err := big.ParseFloat(text, 0, 200, big.ToNearestEven)
	if err != nil || x.IsInf() {
		return 0, false, false
	}
	share, _ = x.Float64()
	may = share >= inventory.LeastTolerance && share <= inventory.MostTolerance
	return share, may, may && plainNumber.MatchString(text)
}
