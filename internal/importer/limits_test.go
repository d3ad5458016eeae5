package importer

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/inventory"
)

func TestSupplyTermsThatCannotBeAreNamed(t *testing.T) {
	const (
		routes   = "route,mode,lead_days,currency,price_per_l,"
		limits   = "route,window,from,until,lot_max_l,cause\n"
		spending = "plant,name,kind,from,until,amount,currency,volume_l\n"
		summer   = "route,window,opens,closes\nriver,summer,06-10,10-15\n"
		plants   = "plant,name,zone,product,"
		nak      = "NAK,Nakrook,America/Anchorage,diesel-2-s15,"
	)
	for _, tt := range []struct {
		name   string
		change texts
		want   []string
	}{
		{"a share in percent", texts{"routes.csv": routes + "price_sd_per_year\nriver,barge,30,USD,1,25\n"}, []string{
			"routes.csv:2:price_sd_per_year: 25 is out of range: expected 0 to 2, as a share: 0.08 is 8 %"}},
		{"with its percent sign", texts{"routes.csv": routes + "price_growth_per_year\nriver,barge,30,USD,1,3%\n"}, []string{
			`routes.csv:2:price_growth_per_year: "3%" is no number: expected digits and a decimal point, such as 1205.5`}},
		{"freight without a unit", texts{"routes.csv": routes + "freight_per\nriver,barge,30,USD,1,0.2\n"}, []string{
			"routes.csv:1:freight_per: the column needs its unit: freight_per_l, freight_per_us_gal, freight_per_imp_gal, freight_per_m3, freight_per_kl, freight_per_bbl"}},
		{"a negative cost", texts{"routes.csv": routes + "stop_cost\nriver,barge,30,USD,1,-200\n"}, []string{
			"routes.csv:2:stop_cost: -200 is out of range: expected 0 to 1 000 000 000 000"}},
		{"half a delivery", texts{"routes.csv": routes + "deliveries\nriver,barge,30,USD,1,1.5\n"}, []string{
			`routes.csv:2:deliveries: "1.5": expected a whole number from 1 to 6`}},
		{"none at all", texts{"routes.csv": routes + "deliveries\nriver,barge,30,USD,1,0\n"}, []string{
			`routes.csv:2:deliveries: "0": expected a whole number from 1 to 6`}},
		{"a load beyond the lot", texts{"routes.csv": routes + "lot_max_us_gal,load_us_gal\nriver,barge,30,USD,1,10000,11000\n"}, []string{
			"routes.csv:2:load_us_gal: 41 639.53 L is more than lot_max, 37 854.118 L: not one load would fit"}},
		{"two reserves", texts{"plants.csv": plants + "reserve_months,reserve_us_gal\n" + nak + "2,5000\n"}, []string{
			"plants.csv:2:reserve_months: the reserve is given as months and as a volume: keep one of them and leave the others blank"}},
		{"a share for a percentage", texts{"plants.csv": plants + "reserve_percent\n" + nak + "0.2\n"}, []string{
			"plants.csv:2:reserve_percent: 0.2 is out of range: expected 1 to 100, as a percentage: 20 is 20 % of what the tanks hold"}},
		{"half a day", texts{"plants.csv": plants + "fallback_at_days\n" + nak + "7.5\n"}, []string{
			`plants.csv:2:fallback_at_days: "7.5": expected a whole number from 0 to 3660`}},
		{"a year in a cut-off", texts{"windows.csv": "route,window,opens,closes,cut_off\nriver,summer,06-10,10-15,2026-10-01\n"}, []string{
			`windows.csv:2:cut_off: "2026-10-01" is no day of the year: expected MM-DD such as 06-15`}},
		{"a cut-off before the opening", texts{"windows.csv": "route,window,opens,closes,cut_off\nriver,summer,06-10,10-15,06-01\n"}, []string{
			"windows.csv:2:cut_off: 06-01 lies 9 days before the opening, 06-10: expected a day from the opening to about the closing, 10-15"}},
		{"a limit of no window", texts{"windows.csv": summer, "window_limits.csv": limits + "river,autumn,08-20,09-30,5000,draft\n"}, []string{
			`window_limits.csv:2:window: there is no window "autumn" of route river: expected one of summer, or enter the window first`}},
		{"a limit without its unit", texts{"window_limits.csv": "route,window,from,until,lot_max,cause\n"}, []string{
			"window_limits.csv:1:lot_max: the column needs its unit: lot_max_l, lot_max_us_gal, lot_max_imp_gal, lot_max_m3, lot_max_kl, lot_max_bbl",
			"window_limits.csv:1:lot_max_…: the column is missing: add it to the header with its unit: lot_max_l, lot_max_us_gal, lot_max_imp_gal, lot_max_m3, lot_max_kl, lot_max_bbl"}},
		{"a day of the year that is none", texts{"window_limits.csv": limits + "river,summer,20.8.,09-31,5000,draft\n"}, []string{
			`window_limits.csv:2:from: "20.8." is no day of the year: expected MM-DD such as 06-15`,
			`window_limits.csv:2:until: "09-31" is no day of the year: expected MM-DD such as 06-15`}},
		{"two limits of one day and cause", texts{"windows.csv": summer, "window_limits.csv": "key," + limits + "a,river,summer,08-20,09-30,5000,draft\nb,river,summer,08-20,10-30,6000,draft\n"}, []string{
			"window_limits.csv:3:key: row 2 is about the same window limit: leave one of them out, or say in replaces which one is corrected"}},
		{"money of another currency", texts{"spending_limits.csv": spending + "NAK,bank,loan,2026-10-01,2027-06-30,5000,CAD,\n",
			"routes.csv": routes + "supplier\nriver,barge,30,USD,1,\n"}, []string{
			"spending_limits.csv:2:currency: CAD, and route river that serves the plant is priced in USD: expected one currency; state the limit as a volume where there are several"}},
		{"a limit of nothing", texts{"spending_limits.csv": spending + "NAK,bank,loan,2026-10-01,2026-06-30,,,\n"}, []string{
			"spending_limits.csv:2:until: 2026-06-30 is before from, 2026-10-01: expected the first day first",
			"spending_limits.csv:2:amount: blank, and so is the volume: expected what may be spent, what may be ordered, or both"}},
		{"two limits of one name and day", texts{"spending_limits.csv": spending + "NAK,bank,loan,2026-10-01,2027-06-30,5000,USD,\nNAK,bank,credit,2026-10-01,2027-07-30,6000,USD,\n"}, []string{
			"spending_limits.csv:3:key: row 2 has the same key, NAK/bank/2026-10-01, and other content: leave one of them out, or give the correction a key of its own and put NAK/bank/2026-10-01 into replaces"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, refusal(t, small().with(tt.change), inventory.Rows{})); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// Limits may refer to what the ledger holds, are corrected by rows of their own, and are withdrawn.
func TestLimitsOnWhatTheLedgerHoldsAreReadAndCorrected(t *testing.T) {
	known := read(t, small().with(texts{"windows.csv": "route,window,opens,closes\nriver,summer,06-10,10-15\n"})).Rows
	got, err := Read(texts{
		"window_limits.csv": "key,replaces,void,route,window,from,until,lot_max_kl,cause\n" +
			"a,,,river,summer,08-20,09-30,5,draft\nb,a,,river,summer,08-20,09-30,6,draft\n,old,yes,river,summer,07-01,,,tide\n",
		"spending_limits.csv": "plant,name,kind,from,until,volume_kl\nNAK,depot,supplier,2026-10-01,2026-10-01,40\n",
	}.fs(), known, now)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(got.Rows.WindowLimits); n != 3 || got.Rows.WindowLimits[1].LotMax != 6000 || !got.Rows.WindowLimits[2].Void {
		t.Errorf("%d limits: %+v", n, got.Rows.WindowLimits)
	}
	if len(got.Rows.SpendingLimits) != 1 || *got.Rows.SpendingLimits[0].Volume != 40_000 {
		t.Errorf("spending %+v", got.Rows.SpendingLimits)
	}
}
