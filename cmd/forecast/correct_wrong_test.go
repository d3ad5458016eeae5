package main

import (
	"strings"
	"testing"

	"overwinter/internal/fault"
)

func TestAWrongHeaderIsRefusedWhole(t *testing.T) {
	for _, tt := range []struct{ header, says string }{
		{"", "rows.csv is empty: expected a header line"},
		{"density_kgm3,temperature_c\n", "rows.csv:1:density_basis: the column is missing"},
		{"density_basis,temperature_c\n", "rows.csv:1:density_kgm3: the column is missing"},
		{"density_kgm3,density_basis\n", "rows.csv:1:temperature_c: the column is missing"},
		{"density_kgm3,density_basis,temperature_c,temperature_f\n", "rows.csv:1:temperature_f: the temperature stands in two columns"},
		{"density_kgm3,density_basis,temperature_c,temperature_c\n", "rows.csv:1:temperature_c: the column stands twice"},
		{"density_kgm3,density_basis,temperature_c,vcf15\n", "rows.csv:1:vcf15: the command writes a column of this name"},
		{"density_kgm3,density_basis,temperature_c,pressure_psi\n", "rows.csv:1:pressure_psi: no column of this command: did you mean pressure_kpa?"},
		{"density_kgm3,density_basis,temperature_c,Edition\n", "rows.csv:1:Edition: no column of this command: did you mean edition?"},
		{"density_kgm3,\"density\"_basis\n", "rows.csv:1: a quote stands inside a field"},
	} {
		out, err := corrected(tt.header)
		if out != "" || fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%q: wrote %q, got %v, want %q", tt.header, out, err, tt.says)
		}
	}
}

func TestTheFirstWrongRowStopsAfterWholeRows(t *testing.T) {
	const header = "product_class,density_kgm3,density_basis,temperature_c,pressure_kpa,edition\n"
	const good = ",840,15C,10,,\n"
	for _, tt := range []struct{ row, says string }{
		{",84O,15C,10,,", `rows.csv:4:density_kgm3: "84O" is no number: expected digits and a decimal point, such as 838.4`},
		{`,"1,840",15C,10,,`, `density_kgm3: "1,840" is no number`},
		{",NaN,15C,10,,", `density_kgm3: "NaN" is no number`},
		{",0x348,15C,10,,", `density_kgm3: "0x348" is no number`},
		{",1e999,15C,10,,", `density_kgm3: "1e999" is no number`},
		{",,15C,10,,", "density_kgm3: blank: the row needs it"},
		{",840,15C,,,", "temperature_c: blank: the row needs it"},
		{",840,,10,,", "density_basis: blank: expected observed, 15C, 20C or 60F"},
		{",840,15,10,,", `density_basis: "15": expected observed, 15C, 20C or 60F`},
		{"diesel,840,15C,10,,", `product_class: "diesel": expected crude, refined or lubricant, or a blank for refined`},
		{"special,840,15C,10,,", `product_class: "special": expected crude`},
		{",840,15C,10,,1952", `edition: "1952": expected 2004 or 1980, or a blank for 2004`},
		{",840,15C,10,many,", `pressure_kpa: "many" is no number`},
		{",840,15C,10,11000,", "pressure_kpa: 11000 kPa above the air is outside the range of the volume correction: expected -101.325 to 10342 kPa"},
		{",840,15C,-51,,", "temperature_c: -51 °C is outside the range of the volume correction: expected -50 to 150 °C"},
		{",84,15C,10,,", "density_kgm3: 84 kg/m³ at 15 °C is outside the range of the volume correction: expected 611.2 to 1163.8 kg/m³"},
		{"lubricant,700,observed,10,,", "expected 804.4 to 1166.9 kg/m³ for lubricant"},
		{",840,15C,10,", "rows.csv:4: the row has 5 fields, the header 6: look for a missing comma"},
		{",840,15C,10,,,", "rows.csv:4: the row has 7 fields, the header 6"},
		{`,840,15C,"10,,`, "rows.csv:4: a quote stands inside a field that is not quoted, or is not closed"},
		{`,840,15C,1"0,"",`, "rows.csv:4: a quote stands inside a field"},
		{`,840,15C,"10"0,,`, "rows.csv:4: a quote stands inside a field"},
		{`"` + strings.Repeat("x\n", 1<<19), "rows.csv:4: the row is longer than 1 MB: look for a quote that is not closed"},
	} {
		out, err := corrected(header + good + good + tt.row + "\n" + good)
		if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%q: got %v, want %q", tt.row, err, tt.says)
		}
		if lines := strings.Count(out, "\n"); lines != 3 || !strings.HasSuffix(out, ",fuel oil\n") {
			t.Errorf("%q: wrote %q", tt.row, out)
		}
	}
	_, err := corrected("density_kgm3,density_basis,temperature_c\n0,,15\n")
	if err == nil || !strings.Contains(err.Error(), "rows.csv:2:density_basis: blank") {
		t.Error(err)
	}
	_, err = corrected("density_kgm3,density_basis,temperature_f\n840,15C,303\n")
	if err == nil || !strings.Contains(err.Error(), `temperature_f: "303" °F is outside the range of the volume correction: expected -58 to 302 °F`) {
		t.Error(err)
	}
	if _, err := corrected("density_kgm3,density_basis,temperature_f\n840,15C,302\n840,15C,-58\n"); err != nil {
		t.Errorf("the limits are refused: %v", err)
	}
}
