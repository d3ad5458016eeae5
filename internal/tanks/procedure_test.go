package tanks

import (
	"math"
	"strings"
	"testing"

	"overwinter/internal/fault"
)

func TestWhatDoesNotGoTogetherIsRefused(t *testing.T) {
	for _, tt := range []struct {
		p    Procedure
		says string
	}{
		{Procedure{Edition: "1952"}, `edition: "1952" is no edition known here: expected 2004 or 1980`},
		{Procedure{Group: "bitumen"}, `group: "bitumen" is no group of liquids: expected refined, crude, lubricant or special`},
		{Procedure{Base: "0C"}, `base: "0C" is no base: expected 15C, 20C or 60F`},
		{Procedure{Group: Special}, "alpha60: 0 per °F is outside the range of the standard: expected 0.00023 to 0.00093"},
		{Procedure{Group: Special, Alpha60: 931e-6}, "alpha60: 0.000931"},
		{Procedure{Group: Special, Alpha60: math.NaN()}, "alpha60: NaN"},
		{Procedure{Group: Crude, Alpha60: 500e-6}, "alpha60: the expansion of crude follows from the density"},
		{Procedure{Group: Special, Alpha60: 500e-6, Edition: Edition1980}, "choose the base 60F"},
		{Procedure{Hydrometer: true}, "hydrometer: the edition of 2004 has no correction for glass"},
	} {
		_, err1 := tt.p.AtBase(840)
		_, err2 := tt.p.Observed(840, 20, 0)
		for _, err := range []error{err1, err2} {
			if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("%+v: got %v, want an invalid input saying %q", tt.p, err, tt.says)
			}
		}
	}
}

func TestARecordNamesTheRules(t *testing.T) {
	for _, tt := range []struct {
		p    Procedure
		want string
	}{
		{Procedure{}, "API MPMS 11.1-2004, refined, to 15 °C, unrounded"},
		{Procedure{Group: Crude, Base: Base60F, Rounded: true}, "API MPMS 11.1-2004, crude, to 60 °F, rounded as tables are"},
		{Procedure{Edition: Edition1980, Hydrometer: true}, "ASTM D1250-80 Table 54B, refined, to 15 °C, unrounded, glass hydrometer"},
		{Procedure{Edition: Edition1980, Group: Lubricant, Base: Base20C}, "ASTM D1250-80 Table 60D, lubricant, to 20 °C, unrounded"},
	} {
		if got := tt.p.String(); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
	if got := corrector(t, 840).Procedure(); got != (Procedure{Edition: Edition2004, Group: Refined, Base: Base15C}) {
		t.Errorf("the record of the default is %+v", got)
	}
}
