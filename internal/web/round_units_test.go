package web

import (
	"strings"
	"testing"

	"overwinter/internal/inventory"
)

func TestRefusalsSpeakInThePlantsOwnUnits(t *testing.T) {
	inches := scalesOf(&inventory.Plant{Display: inventory.Display{Volume: "us_gal", Depth: "in", Temperature: "f"}})
	// 1 in = 25.4 mm and 1 US gal = 3.785411784 L, exactly; t °F = 1.8 t °C + 32.
	tests := []struct{ says, want string }{
		{"12 700 mm is above the tank's 3 048 mm: check the dip", "500 in is above the tank's 120 in: check the dip"},
		{"200 °C is out of range: expected -60 to 150 °C", "392 °F is out of range: expected −76 to 302 °F"},
		{"the tanks together hold 37\u202f854 L less", "the tanks together hold 10 000 US gal less"},
		{"the year 1800 cannot be meant", "the year 1800 cannot be meant"},
	}
	spaces := strings.NewReplacer("\u00a0", " ", "\u2009", " ", "\u202f", " ")
	for _, tt := range tests {
		if got := spaces.Replace(inches.inUnits(tt.says)); got != tt.want {
			t.Errorf("%q becomes %q, want %q", tt.says, got, tt.want)
		}
		if got := scalesOf(&inventory.Plant{}).inUnits(tt.says); got != tt.says {
			t.Errorf("in stored units %q becomes %q", tt.says, got)
		}
	}
}
