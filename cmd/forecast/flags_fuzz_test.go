package main

import (
	"encoding/csv"
	"encoding/json"
	"math/big"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/store"
)

// FuzzNoFlagsBreakTheCommandsThatLookAhead gives their flags any values, on a ledger without plants. No command fails by itself; what is
// refused is told, and writes no answer.
func FuzzNoFlagsBreakTheCommandsThatLookAhead(f *testing.F) {
	for i, asOf := range []string{"", "2026-03-02", "0000-01-01", "9999-12-31", "2026-02-29", "2026-3-2"} {
		f.Add(i%2 == 0, asOf, []string{"1", "-1", "0x1", "18446744073709551616", "", "1e3"}[i], []string{"1.5", "NaN", "-0", "1e308", "1,5", ""}[i],
			[]string{"USD", "€", "", "uſd", "dollars", "x\n"}[i], "P")
	}
	threeLetters := regexp.MustCompile(`^[A-Za-z]{3}$`)
	path := filepath.Join(f.TempDir(), "empty.db")
	db, err := store.Open(f.Context(), path)
	if err != nil {
		f.Fatal(err)
	}
	if err := db.Close(); err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, budget bool, asOf, seed, price, currency, plant string) {
		args := []string{"advise", "--db", path, "--as-of=" + asOf, "--seed=" + seed, "--explain=" + plant}
		if budget {
			args = []string{"budget", "--json", "--db", path, "--as-of=" + asOf, "--seed=" + seed, "--price=" + price, "--currency=" + currency}
		}
		code, out, errors := command(args...)
		if code == fault.ExitInternal || code != fault.ExitDone && (out != "" || errors == "") {
			t.Fatalf("%q: exit %d: %s%s", args, code, out, errors)
		}
		if budget && (code == fault.ExitDone || code == fault.ExitNotFound) && !threeLetters.MatchString(currency) {
			t.Fatalf("%q is taken as a currency", currency)
		}
		_, isNumber := new(big.Int).SetString(seed, 10)
		if code != fault.ExitUsage && !isNumber && seed != "" {
			if n, err := new(big.Int).SetString(seed, 0); !err || !n.IsUint64() {
				t.Fatalf("%q is taken as a seed", seed)
			}
		}
		var answer map[string]any
		if code == fault.ExitDone && budget && json.Unmarshal([]byte(out), &answer) != nil {
			t.Fatalf("%q: %s", args, out)
		}
	})
}

// FuzzNoFlagsBreakTheCommandsThatAskOtherwise gives the flags of what is planned, supposed, changed and replayed any values, where there is no
// plant, and no file to replay. No command fails by itself; what cannot be read is told as a wrong command line, and nothing is answered.
func FuzzNoFlagsBreakTheCommandsThatAskOtherwise(f *testing.F) {
	for i, day := range []string{"2026-06-01", "", "2026-02-30", "1.3.2026", "0000-01-01", "9999-12-31", "-1"} {
		number := []string{"10", "-100", "NaN", "1e309", "0x1p3", "1,5", ""}[i]
		f.Add(uint8(i), "P", day, day, number, number, []string{"1", "-1", "18446744073709551616", "", "1e3", "300", "0"}[i], []string{"ours", "", "mean", "theirs", "fill,fill", "upto", "\n"}[i])
	}
	dir := f.TempDir()
	path := filepath.Join(dir, "empty.db")
	db, err := store.Open(f.Context(), path)
	if err != nil {
		f.Fatal(err)
	}
	if err := db.Close(); err != nil {
		f.Fatal(err)
	}
	missing := filepath.Join(dir, "missing")
	f.Fuzz(func(t *testing.T, which uint8, plant, asOf, from, kW, share, seed, policy string) {
		asked := []string{"--db=" + path, "--as-of=" + asOf, "--seed=" + seed, "--", plant}
		var args []string
		switch which % 4 {
		case 0:
			args = append([]string{"plan"}, asked...)
		case 1:
			args = append([]string{"sensitivities", "--json"}, asked...)
		case 2:
			args = append([]string{"suppose", "--json", "--load-kw=" + kW, "--load-from=" + from, "--winter=" + share, "--standby-from=" + from, "--standby-until=" + asOf,
				"--engines-less-percent=" + share, "--engines-from=" + from}, asked...)
		case 3:
			args = []string{"replay", "--history=" + missing, "--plants=" + missing + "2", "--past-windows=" + missing + "3", "--scenario=" + missing + "4", "--out=" + missing + "5",
				"--policy=" + policy, "--seeds=" + seed, "--paths=" + kW}
		}
		code, out, errors := command(args...)
		if code != fault.ExitUsage && code != fault.ExitNotFound && code != fault.ExitInvalid || errors == "" || out != "" {
			t.Fatalf("%q: exit %d: %s%s", args, code, out, errors)
		}
		if _, err := time.Parse(time.DateOnly, asOf); which%4 != 3 && err != nil && code != fault.ExitUsage {
			t.Fatalf("%q is taken as a day: exit %d: %s", asOf, code, errors)
		}
		if _, err := os.Stat(missing + "5"); err == nil {
			t.Fatalf("%q: the scores of nothing are written", args)
		}
	})
}

// FuzzAStepIsTheOneThatIsAskedFor gives the flags of a capacity table any values. Its rows lie the step apart, or nothing is written.
func FuzzAStepIsTheOneThatIsAskedFor(f *testing.F) {
	for _, step := range []string{"10", "0.001", "1e1", "7.5", "100000", "-1", "NaN", "0", "0x10", "", " 5", "12.3456789"} {
		f.Add(step, "", "", "", false)
	}
	f.Add("", "12.5", "P", "T", false)
	f.Add("", "-1", "", "", true)
	f.Add("", "1e2", "a,b", "\"\n", false)
	f.Add("5", "5", "P", "", false)
	tank := filepath.Join(f.TempDir(), "tank.json")
	if err := os.WriteFile(tank, []byte(`{"kind":"vertical","diameter_mm":2000,"height_mm":100}`), 0o600); err != nil {
		f.Fatal(err)
	}
	decimal := regexp.MustCompile(`^\d+(\.\d+)?$`)
	f.Fuzz(func(t *testing.T, step, depth, plant, name string, round bool) {
		args := []string{"strap", "--plant=" + plant, "--tank=" + name}
		if step != "" {
			args = append(args, "--step-mm="+step)
		}
		if depth != "" {
			args = append(args, "--depth="+depth)
		}
		if round {
			args = append(args, "--round")
		}
		code, out, errors := command(append(args, tank)...)
		if code == fault.ExitInternal || code != fault.ExitDone && errors == "" {
			t.Fatalf("%q: exit %d: %s", args, code, errors)
		}
		if code != fault.ExitDone {
			return
		}
		rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
		if err != nil || len(rows) < 2 {
			t.Fatalf("%q: %v: %q", args, err, out)
		}
		at := 0
		if plant != "" {
			at = 2
		}
		if plant != "" && (rows[1][0] != strings.ReplaceAll(plant, "\r\n", "\n") || rows[1][1] != strings.ReplaceAll(name, "\r\n", "\n")) {
			t.Fatalf("%q: %q", args, rows[1])
		}
		if asked := strings.TrimSpace(step); decimal.MatchString(asked) && !round {
			want, _ := new(big.Rat).SetString(asked)
			for i, row := range rows[1 : len(rows)-1] {
				got, ok := new(big.Rat).SetString(row[at])
				if exact := new(big.Rat).Mul(want, big.NewRat(int64(i), 1)); !ok || got.Cmp(exact) != 0 {
					t.Fatalf("%q: row %d is at %s, want %s", args, i+1, row[at], exact.FloatString(6))
				}
			}
		}
	})
}
