package main

import (
	"encoding/json"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"overwinter/internal/fault"
	"overwinter/internal/inventory/bookstest"
	"overwinter/internal/store"
)

// bookFor is what the test reads of an answer.
type bookFor struct {
	Plant, Product string
	From, To       time.Time
	KnownAt        *time.Time `json:"known_at"`
	Receipts       []struct {
		Tolerance   float64
		Differences []struct {
			Share  float64 `json:"share_of_agreed"`
			Within bool    `json:"within_tolerance"`
		}
	}
}

var namedField = regexp.MustCompile(`(?m)^(?:  |forecast: --)([a-z_]+): `)

// FuzzTheBooksCommandAnswersForWhatItsFlagsAskFor gives the flags any values. The command must answer for the very stretch,
// products, knowledge and tolerance that the test reads in them, or write nothing and name a flag that is wrong.
func FuzzTheBooksCommandAnswersForWhatItsFlagsAskFor(f *testing.F) {
	for _, q := range bookstest.Seeds() {
		f.Add(q.Plant[1]-'0', q.Product, q.From, q.To, q.KnownAt, "0.03")
	}
	for _, tolerance := range []string{"0.0001", "0.5", "0.50001", "NaN", "-1", "0x1p-5", "0,01", "1e-3"} {
		f.Add(uint8(0), "", "", "", "", tolerance)
	}
	path := filepath.Join(f.TempDir(), "books.db")
	db, err := store.Open(f.Context(), path)
	if err != nil {
		f.Fatal(err)
	}
	if _, err := db.Record(f.Context(), bookstest.Rows(), bookstest.Written); err != nil {
		f.Fatal(err)
	}
	if err := db.Close(); err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, plant uint8, product, from, to, known, tolerance string) {
		q := bookstest.Question{Plant: bookstest.Plant(plant), Product: product, From: from, To: to, KnownAt: known}
		args := []string{"books", "--json", "--db", path, "--as-of", "2026-03-31", "--plant", q.Plant,
			"--product=" + product, "--from=" + from, "--to=" + to, "--known-at=" + known}
		if tolerance != "" {
			args = append(args, "--tolerance="+tolerance)
		}
		before := time.Now()
		code, out, errors := command(args...)
		want, wrong := bookstest.Desk{Now: before, AsOf: "2026-03-31"}.Read(q)
		share, may, must := bookstest.Tolerance(tolerance)
		if code != fault.ExitDone {
			if !must {
				wrong = append(wrong, "tolerance")
			}
			checkRefused(t, code, out, errors, wrong)
			return
		}
		var answer struct{ Books []bookFor }
		if err := json.Unmarshal([]byte(out), &answer); err != nil || len(wrong) > 0 || !may || errors != "" {
			t.Fatalf("%q is answered, though %v is wrong: %v %s", args, wrong, err, errors)
		}
		products := bookstest.Products(q.Plant)
		if product != "" {
			products = []string{product}
		}
		if len(answer.Books) != len(products) {
			t.Fatalf("%q: %d books of %v", args, len(answer.Books), products)
		}
		for i, got := range answer.Books {
			if got.Plant != q.Plant || got.Product != products[i] || !got.From.Equal(want.From) || !got.To.Equal(want.To) ||
				(got.KnownAt == nil) != (want.KnownAt == nil) || got.KnownAt != nil && !got.KnownAt.Equal(*want.KnownAt) {
				t.Fatalf("%q is answered for %+v: want %+v", args, got, want)
			}
			for _, receipt := range got.Receipts {
				for _, d := range receipt.Differences {
					if receipt.Tolerance != share || d.Within != (math.Abs(d.Share) <= share) {
						t.Fatalf("%q: %v within %v is %v", args, d.Share, receipt.Tolerance, d.Within)
					}
				}
			}
		}
	})
}

// checkRefused holds that a command line is refused for one of the flags that are wrong, and that nothing is answered.
func checkRefused(t *testing.T, code int, out, errors string, wrong []string) {
	t.Helper()
	if code == fault.ExitNotFound && slices.Contains(wrong, "plant") && out == "" {
		return
	}
	if code != fault.ExitInvalid && code != fault.ExitUsage || out != "" {
		t.Fatalf("exit %d: %s%s", code, out, errors)
	}
	for _, named := range namedField.FindAllStringSubmatch(errors, -1) {
		if slices.Contains(wrong, named[1]) {
			return
		}
	}
	t.Fatalf("exit %d says %q, and what is wrong is %v", code, strings.TrimSpace(errors), wrong)
}
