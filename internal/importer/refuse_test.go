package importer

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"overwinter/internal/inventory"
)

func TestABadRowIsNamedWithWhatWasFoundAndExpected(t *testing.T) {
	const gaugings = "plant,tank,at,depth_mm,temperature_c\n"
	tests := []struct {
		name   string
		change texts
		want   []string
	}{
		{"letter in a number", texts{"gaugings.csv": gaugings + "NAK,T1,2026-03-02,12O5,4\n"}, []string{
			`gaugings.csv:2:depth_mm: "12O5" is no number: expected digits and a decimal point, such as 1205.5`}},
		{"thousands separator", texts{"gaugings.csv": gaugings + "NAK,T1,2026-03-02,\"1,105.5\",4\n"}, []string{
			`gaugings.csv:2:depth_mm: "1,105.5" has a comma, a blank or an apostrophe in it: expected a decimal point and no thousands separators, such as 1205.5`}},
		{"decimal comma", texts{"gaugings.csv": gaugings + "NAK,T1,2026-03-02,\"105,5\",4\n"}, []string{
			`gaugings.csv:2:depth_mm: "105,5" has a comma, a blank or an apostrophe in it: expected a decimal point and no thousands separators, such as 1205.5`}},
		{"beyond a float", texts{"gaugings.csv": gaugings + "NAK,T1,2026-03-02,1e999,4\n"}, []string{
			`gaugings.csv:2:depth_mm: "1e999" is no number: expected digits and a decimal point, such as 1205.5`}},
		{"not a number", texts{"gaugings.csv": gaugings + "NAK,T1,2026-03-02,NaN,Inf\nNAK,T1,2026-03-03,0x1p4,4\n"}, []string{
			`gaugings.csv:2:depth_mm: "NaN" is no number: expected digits and a decimal point, such as 1205.5`,
			`gaugings.csv:2:temperature_c: "Inf" is no number: expected digits and a decimal point, such as 1205.5`,
			`gaugings.csv:3:depth_mm: "0x1p4" is no number: expected digits and a decimal point, such as 1205.5`}},
		{"overflow by its unit", texts{"gaugings.csv": "plant,tank,at,depth_ft\nNAK,T1,2026-03-02,1e308\n"}, []string{
			`gaugings.csv:2:depth_ft: "1e308" is beyond all measure: check the number`}},
		{"depth above the tank", texts{"gaugings.csv": gaugings + "NAK,T1,2026-03-02,1250,4\n"}, []string{
			"gaugings.csv:2:depth_mm: 1 250 mm is above the tank's 1 200 mm: check the dip and the tank's shape"}},
		{"moment in the future", texts{"gaugings.csv": gaugings + "NAK,T1,2026-10-02,100,4\n"}, []string{
			"gaugings.csv:2:at: 2026-10-02 12:00 is in the future: at the plant it is now 2026-10-01 12:00; check the date (a bare day means noon)"}},
		{"day in the future", texts{"period_totals.csv": "plant,first_day,last_day,volume_l\nNAK,2026-10-01,2026-10-02,5\n"}, []string{
			"period_totals.csv:2:last_day: 2026-10-02 is in the future: at the plant it is now 2026-10-01; check the date"}},
		{"no such day", texts{"period_totals.csv": "plant,first_day,last_day,volume_l\nNAK,2026-02-29,03/02/2026,5\n"}, []string{
			`period_totals.csv:2:first_day: "2026-02-29" is no day: expected YYYY-MM-DD such as 2026-03-02`,
			`period_totals.csv:2:last_day: "03/02/2026" is no day: expected YYYY-MM-DD such as 2026-03-02`}},
		{"clocks go forward", texts{"gaugings.csv": gaugings + "NAK,T1,2026-03-08 02:30,100,4\n"}, []string{
			"gaugings.csv:2:at: 2026-03-08T02:30 does not exist in America/Anchorage, where the clocks skip it as they go forward: check the time, or write its offset"}},
		{"unknown plant", texts{"gaugings.csv": gaugings + "NAC,T1,2026-03-02,100,4\n"}, []string{
			`gaugings.csv:2:plant: there is no plant "NAC": expected one of NAK, or enter the plant first`}},
		{"unknown tank", texts{"gaugings.csv": gaugings + "NAK,T9,2026-03-02,100,4\n"}, []string{
			`gaugings.csv:2:tank: there is no tank "T9" at plant NAK: expected one of T1, D1, or enter the tank first`}},
		{"blank required field", texts{"gaugings.csv": gaugings + "NAK,,2026-03-02,100,4\n"}, []string{
			"gaugings.csv:2:tank: blank: the row needs it"}},
		{"same key, other content", texts{"gaugings.csv": gaugings +
			"NAK,T1,2026-03-02,100,4\nNAK,D1,2026-03-02,100,4\nNAK,T1,2026-03-02T12:00-09:00,101,4\n"}, []string{
			"gaugings.csv:4:key: row 2 has the same key, NAK/T1/2026-03-02T21:00:00Z, and other content: leave one of them out, or give the correction a key of its own and put NAK/T1/2026-03-02T21:00:00Z into replaces"}},
		{"correction without a key", texts{"gaugings.csv": "plant,tank,at,depth_mm,replaces\nNAK,T1,2026-03-02,100,NAK/T1/2026-03-02T21:00:00Z\n"}, []string{
			`gaugings.csv:2:replaces: the row names itself: give the correction a key of its own, other than "NAK/T1/2026-03-02T21:00:00Z"`}},
		{"two corrections of one row", texts{"gaugings.csv": "plant,tank,at,depth_mm,key,replaces\nNAK,T1,2026-03-02,100,a,\nNAK,T1,2026-03-02,101,b,a\nNAK,T1,2026-03-02,102,c,a\n"}, []string{
			"gaugings.csv:4:replaces: row 3 replaces a already: replace that row instead"}},
		{"two rows for one tank", texts{"tanks.csv": "key,plant,tank,role,shape,capacity_l\na,NAK,T1,storage,volume,5000\nb,NAK,T1,storage,volume,6000\n"}, []string{
			"tanks.csv:3:key: row 2 is about the same tank: leave one of them out, or say in replaces which one is corrected"}},
		{"withdraws nothing", texts{"gaugings.csv": "plant,tank,at,void\nNAK,T1,2026-03-02,yes\n"}, []string{
			"gaugings.csv:2:void: a row that withdraws another says which: put that row's key into replaces"}},
		{"neither yes nor no", texts{"meters.csv": "plant,meter,register_unit,compensated\nNAK,M1,l,true\n"}, []string{
			`meters.csv:2:compensated: "true" is neither yes nor no`}},
		{"factor of zero", texts{"meters.csv": "plant,meter,register_unit,factor\nNAK,M1,l,0\n"}, []string{
			"meters.csv:2:factor: a factor of 0 would make every reading 0: expected 0.5 to 2, or blank for 1"}},
		{"unit of a register", texts{"meters.csv": "plant,meter,register_unit\nNAK,M1,gal\n"}, []string{
			`meters.csv:2:register_unit: volume has no unit "gal": use one of l, us_gal, imp_gal, m3, kl, bbl`}},
		{"no day of any year", texts{"windows.csv": "route,window,opens,closes\nriver,summer,06-31,10-15\n"}, []string{
			`windows.csv:2:opens: "06-31" is no day of the year: expected MM-DD such as 06-15`}},
		{"not a whole number", texts{"windows.csv": "route,window,opens,closes,year\nriver,summer,06-10,10-15,2026.5\n"}, []string{
			`windows.csv:2:year: "2026.5": expected a whole number from 1900 to 2200`}},
		{"an unknown state of an order", texts{"orders.csv": "plant,order,state,ordered_on,early,likely,late,volume_l\nNAK,o,sailing,2026-03-01,2026-06-01,2026-06-10,2026-06-20,5000\n"}, []string{
			`orders.csv:2:state: "sailing" is not known: expected one of proposed, cleared, ordered, loaded, in-transit, received, closed, cancelled`}},
		{"an order that is to come before it may be placed", texts{"orders.csv": "plant,order,state,state_at,ordered_on,order_by,early,likely,late,volume_l\n" +
			"NAK,o,proposed,2026-10-02,2026-03-01,2026-06-21,2026-06-01,2026-06-10,2026-06-20,5000\n"}, []string{
			"orders.csv:2:state_at: 2026-10-02 12:00 is in the future: at the plant it is now 2026-10-01 12:00; check the date (a bare day means noon)",
			"orders.csv:2:order_by: 2026-06-21 is after the latest arrival, 2026-06-20: expected the last day on which the order may be placed"}},
		{"a clearance given tomorrow", texts{"clearances.csv": "plant,order,clearance,takes_days,cleared_on\nNAK,o,credit,10,2026-10-02\n"}, []string{
			"clearances.csv:2:cleared_on: 2026-10-02 is in the future: at the plant it is now 2026-10-01; check the date"}},
		{"a clearance that takes half a day", texts{"clearances.csv": "plant,order,clearance,takes_days\nNAK,o,credit,0.5\n"}, []string{
			`clearances.csv:2:takes_days: "0.5": expected a whole number from 0 to 3660`}},
		{"a clearance twice", texts{"clearances.csv": "key,plant,order,clearance\na,NAK,o,credit\nb,NAK,o,credit\n"}, []string{
			"clearances.csv:3:key: row 2 is about the same clearance: leave one of them out, or say in replaces which one is corrected"}},
		{"a change of load said twice over", texts{"load_changes.csv": "plant,from,until,times,added_kw,cause\nNAK,2027-05-01,2027-05-01,1.1,20,wind\n"}, []string{
			"load_changes.csv:2:until: 2027-05-01 is not after from, 2027-05-01: expected the first day without the change, or blank where it is for good",
			"load_changes.csv:2:times: both times and added_kw: give the one that is known and leave the other blank"}},
		{"two loads of one day and cause", texts{"load_changes.csv": "plant,from,added_kw,cause\nNAK,2027-05-01,20,load-connected\nNAK,2027-05-01,30,load-connected\n"}, []string{
			"load_changes.csv:3:key: row 2 has the same key, NAK/2027-05-01/load-connected, and other content: leave one of them out, or give the correction a key of its own and put NAK/2027-05-01/load-connected into replaces"}},
		{"degree days without their unit", texts{"degree_days.csv": "group,first_day,last_day,degree_days,base_c\n,2026-01-01,2026-01-31,900,18\n"}, []string{
			"degree_days.csv:1:degree_days: the column needs its unit: degree_days_c, degree_days_f",
			"degree_days.csv:1:degree_days_…: the column is missing: add it to the header with its unit: degree_days_c, degree_days_f"}},
		{"degree days of a group without plants", texts{"degree_days.csv": "group,first_day,last_day,degree_days_c,base_c\nbay,2026-01-01,2026-01-31,900,18\n"}, []string{
			`degree_days.csv:2:group: there is no climate group "bay": state it in a plant's row first, or leave it blank here too`}},
		{"degree days of Fahrenheit under the header of Celsius", texts{"degree_days.csv": "group,first_day,last_day,degree_days_c,base_c\n,2026-01-01,2026-01-01,90,18\n"}, []string{
			"degree_days.csv:2:degree_days_c: 90 °C·d is out of range: expected 0 to 88 °C·d"}},
		{"two bases of one group", texts{"degree_days.csv": "group,first_day,last_day,degree_days_c,base_c\n,2026-02-01,2026-02-28,700,15.5\n,2026-01-01,2026-01-31,900,18\n"}, []string{
			"degree_days.csv:2:base_c: 15.50 °C, and row 3 of the same group has 18.00 °C: expected one base a group"}},
		{"a day in two sums of degree days", texts{"degree_days.csv": "group,first_day,last_day,degree_days_c,base_c\n,2026-01-01,2026-01-31,900,18\n,2026-01-31,2026-01-31,30,18\n"}, []string{
			"degree_days.csv:3:first_day: 2026-01-31 stands in row 2 already, which goes to 2026-01-31: expected each day of a group once"}},
		{"degree days of one stretch under two keys", texts{"degree_days.csv": "key,first_day,last_day,degree_days_c,base_c\na,2026-01-01,2026-01-31,900,18\nb,2026-01-01,2026-01-31,910,18\n"}, []string{
			"degree_days.csv:3:key: row 2 is about the same degree days: leave one of them out, or say in replaces which one is corrected"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, refusal(t, small().with(tt.change), inventory.Rows{})); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestABadFileIsNamed(t *testing.T) {
	tests := []struct {
		name   string
		change texts
		want   []string
	}{
		{"misspelt header", texts{"services.csv": "route,plnt\nriver,NAK\n"}, []string{
			"services.csv:1:plnt: unknown column: did you mean plant?",
			"services.csv:1:plant: the column is missing: add it to the header"}},
		{"header in capitals", texts{"services.csv": "Route,plant\nriver,NAK\n"}, []string{
			"services.csv:1:Route: unknown column: did you mean route?",
			"services.csv:1:route: the column is missing: add it to the header"}},
		{"stranger", texts{"services.csv": "route,plant,comment\nriver,NAK,x\n"}, []string{
			"services.csv:1:comment: unknown column: expected route, plant, key, replaces, void, who, why"}},
		{"no unit", texts{"gaugings.csv": "plant,tank,at,depth\n"}, []string{
			"gaugings.csv:1:depth: the column needs its unit: depth_mm, depth_cm, depth_m, depth_in, depth_ft"}},
		{"unknown unit", texts{"gaugings.csv": "plant,tank,at,depth_yd\n"}, []string{
			`gaugings.csv:1:depth_yd: "yd" is no unit of length: expected depth_mm, depth_cm, depth_m, depth_in, depth_ft`}},
		{"misspelt quantity", texts{"gaugings.csv": "plant,tank,at,dept_mm\n"}, []string{
			"gaugings.csv:1:dept_mm: unknown column: did you mean depth_mm?"}},
		{"two units", texts{"gaugings.csv": "plant,tank,at,depth_mm,depth_in\n"}, []string{
			"gaugings.csv:1:depth_in: depth stands in two units, depth_mm and depth_in: keep one"}},
		{"column twice", texts{"services.csv": "route,plant,plant\n"}, []string{
			"services.csv:1:plant: the column stands twice: keep one"}},
		{"column without a name", texts{"services.csv": "route,plant,\n"}, []string{
			"services.csv:1: column 3 has no name: name it or take it out"}},
		{"missing quantity", texts{"draws.csv": "plant,first_day,last_day,purpose\n"}, []string{
			"draws.csv:1:volume_…: the column is missing: add it to the header with its unit: volume_l, volume_us_gal, volume_imp_gal, volume_m3, volume_kl, volume_bbl"}},
		{"semicolons", texts{"services.csv": "route;plant\nriver;NAK\n"}, []string{
			`services.csv:1:route;plant: the columns are separated by ";": save the file with commas`,
			"services.csv:1:route: the column is missing: add it to the header",
			"services.csv:1:plant: the column is missing: add it to the header"}},
		{"not UTF-8", texts{"plants.csv": "plant,name,zone,product\nNAK,Qu\xe9bec,America/Anchorage,diesel-2-s15\n"}, []string{
			"plants.csv:2:name: byte 0xE9 is not UTF-8: save the file as CSV UTF-8"}},
		{"UTF-16", texts{"services.csv": "\xff\xfer\x00o\x00u\x00"}, []string{
			"services.csv:1:column 1: byte 0xFF is not UTF-8: save the file as CSV UTF-8"}},
		{"empty", texts{"services.csv": "\n"}, []string{"services.csv: the file is empty: expected a header line"}},
		{"too few fields", texts{"services.csv": "route,plant\nriver\n"}, []string{
			"services.csv:2: the row has 1 fields, the header 2: look for a missing comma, or one inside a field that is not quoted"}},
		{"bare quote", texts{"services.csv": "route,plant\nri\"ver,NAK\nbarge,NAK\n"}, []string{
			"services.csv:2: a quote stands inside a field that is not quoted, or is not closed: set the whole field in quotes and double each quote in it",
			`services.csv:3:route: there is no supply route "barge": expected one of river, air, or enter the supply route first`}},
		{"unknown file", texts{"gauging.csv": "plant\n", "comments.csv": "a\n"}, []string{
			"comments.csv: not a file of a data folder: expected one of " + strings.Join(fileNames(), ", "),
			"gauging.csv: not a file of a data folder: did you mean gaugings.csv?"}},
		{"no plants", texts{"plants.csv": ""}, []string{
			"plants.csv: missing, and the ledger has no plant yet: every other row belongs to a plant, so begin with this file"}},
		{"points out of order", texts{"capacity.csv": "plant,tank,depth_mm,volume_l\nNAK,T1,100,50\nNAK,T1,100,60\nNAK,T1,200,40\n"}, []string{
			"capacity.csv:3:depth_mm: the depth does not rise above that of row 2, 100 mm: expected the points of a tank by rising depth",
			"capacity.csv:4:volume_l: the volume falls below that of row 3, 60 L: expected it to rise with the depth"}},
		{"points of no tank", texts{"capacity.csv": "plant,tank,depth_mm,volume_l\nNAK,T7,100,50\n"}, []string{
			`capacity.csv:2:tank: tanks.csv of this folder has no tank "T7" of plant "NAK": a capacity table goes in with its tank's row`}},
		{"points of another shape", texts{"capacity.csv": "plant,tank,depth_mm,volume_l\nNAK,T1,0,0\nNAK,T1,100,50\n"}, []string{
			"tanks.csv:2:shape: the tank has a capacity table but its shape is horizontal: expected the shape table"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, refusal(t, small().with(tt.change), inventory.Rows{})); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestAFolderWithoutDataIsRefused(t *testing.T) {
	_, err := Read(texts{"readme.txt": "hello"}.fs(), inventory.Rows{}, now)
	if err == nil || !strings.HasPrefix(err.Error(), "the folder holds no data file: expected at least one of plants.csv, ") {
		t.Error(err)
	}
}

func TestARowThatCannotBeReadDoesNotAccuseThoseThatReferToIt(t *testing.T) {
	folder := small().with(texts{
		"meters.csv":         "plant,meter,register_unit\nNAK,\"M\"1,l\n",
		"meter_readings.csv": "plant,meter,at,register\nNAK,M1,2026-03-02,5\nNAK,M1,2026-03-03,x\n",
	})
	want := []string{
		"meters.csv:2: a quote stands inside a field that is not quoted, or is not closed: set the whole field in quotes and double each quote in it",
		`meter_readings.csv:3:register: "x" is no number: expected digits and a decimal point, such as 1205.5`,
	}
	if diff := cmp.Diff(want, refusal(t, folder, inventory.Rows{})); diff != "" {
		t.Error(diff)
	}
	_, err := Read(folder.fs(), inventory.Rows{}, now)
	if want := "nothing was loaded: 2 problems; rows that refer to an unread one are checked once it is mended\n"; !strings.HasPrefix(err.Error(), want) {
		t.Error(err)
	}
}

func TestProblemsBeyondTheFirst200AreCounted(t *testing.T) {
	folder := small().with(texts{"services.csv": "route,plant\n" + strings.Repeat("river,\n", 300)})
	if got := refusal(t, folder, inventory.Rows{}); len(got) != 200 {
		t.Errorf("%d problems are listed, want 200", len(got))
	}
	_, err := Read(folder.fs(), inventory.Rows{}, now)
	if want := "nothing was loaded: 300 problems, of which 100 are not listed\n"; !strings.HasPrefix(err.Error(), want) {
		t.Error(err)
	}
}
