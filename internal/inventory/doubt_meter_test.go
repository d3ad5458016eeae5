package inventory

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func TestAMisreadRegisterIsDoubtedWithItsLikelyCause(t *testing.T) {
	// 29 January: 28 398 or so is right; 11 February is the newest.
	tests := []struct {
		name   string
		day    int
		change func(right float64) float64
		want   []told
	}{
		{"none", 28, func(v float64) float64 { return v }, nil},
		{"a digit dropped", 28, func(v float64) float64 { return float64(int(v) / 10) }, []told{{"m0129", DigitDropped, WholeRow}}},
		{"a digit typed twice", 28, func(v float64) float64 { return 10*v + float64(int(v)%10) }, []told{{"m0129", DigitAdded, WholeRow}}},
		{"two digits exchanged", 28, func(v float64) float64 { return v + 54_000 }, []told{{"m0129", DigitsExchanged, WholeRow}}},
		{"one digit wrong", 28, func(v float64) float64 { return v + 60_000 }, []told{{"m0129", DigitMistaken, WholeRow}}},
		{"the newest, a digit dropped", 41, func(v float64) float64 { return float64(int(v) / 10) }, []told{{"m0211", DigitDropped, WholeRow}}},
		{"the newest, a new meter", 41, func(float64) float64 { return 0 }, []told{{"m0211", MeterSwapped, WholeRow}}},
		{"the newest, far beyond the burn", 41, func(v float64) float64 { return v + 7777 }, []told{{"m0211", BeyondBurn, WholeRow}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := daily(42)
			rows[tt.day].Register = tt.change(rows[tt.day].Register)
			if diff := cmp.Diff(tt.want, toldOf(bookOf(t, Rows{Readings: rows}))); diff != "" {
				t.Errorf("%v: %s", rows[tt.day].Register, diff)
			}
		})
	}
}

func TestAMeterChangedWithoutARecordLeavesOutOnlyTheRunUpToIt(t *testing.T) {
	rows := daily(42)
	for i := 30; i < 42; i++ {
		rows[i].Register -= rows[30].Register - 50
		if i == 30 {
			rows[i].Register = 50
		}
	}
	for i := 31; i < 42; i++ {
		rows[i].Register = rows[i-1].Register + 310
	}
	b := bookOf(t, Rows{Readings: rows}, volumeTank("bulk", Storage, 50_000))
	if diff := cmp.Diff([]told{{"m0131", MeterSwapped, RunBefore}}, toldOf(b)); diff != "" {
		t.Error(diff)
	}
	if u, _ := b.Usages(); len(u) != 40 {
		t.Errorf("%d usage intervals, want the 41 but that over the change", len(u))
	}
}

// The plant has a second meter N, whose register runs on from 70 000 by 100 a day. On 29 January M should stand at 28 398 or so
// and N at 72 800.
func TestARegisterThatFitsTheOtherMeterIsToldSo(t *testing.T) {
	tests := []struct {
		name string
		m, n float64 // what is written down for each, 0 for what was not read
		want []told
	}{
		{"each its own", 28_398, 72_800, nil},
		{"the other's, and the other was not read", 72_800, 0, []told{{"m0129", OtherMeter, WholeRow}}},
		{"interchanged", 72_800, 28_398, []told{{"m0129", OtherMeter, WholeRow}, {"n0129", OtherMeter, WholeRow}}},
		// A digit wrong brings 78 398 back, and N was read in the same round.
		{"a slip that happens to lie near the other", 78_398, 72_800, []told{{"m0129", DigitMistaken, WholeRow}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := Rows{Readings: daily(42)}
			rows.Readings[28].Register = tt.m
			for i := range 42 {
				r := reading(at(time.January, 1+i, 8), 70_000+100*float64(i))
				r.Key, r.Meter = "n"+r.At.Format("0102"), "N"
				if i == 28 {
					r.Register = tt.n
				}
				if r.Register != 0 {
					rows.Readings = append(rows.Readings, r)
				}
			}
			dir := directoryOf(volumeTank("bulk", Storage, 50_000))
			dir.rows.Meters = append(dir.rows.Meters, &Meter{Plant: "P", ID: "N", Digits: 5, LitresPerCount: 1})
			b, err := NewBook(NewDirectory(dir.rows), "P", rows, day(31))
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, toldOf(b)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestTheOldestReadingMayBeTheSlip(t *testing.T) {
	rows := daily(42)
	rows[0].Register = 2000 // 20 000
	if diff := cmp.Diff([]told{{"m0101", DigitDropped, WholeRow}}, toldOf(bookOf(t, Rows{Readings: rows}))); diff != "" {
		t.Error(diff)
	}
}

// A register that falls back to little is a new meter, one that falls by less goes backwards; where the row of the meter has no
// digits, it may have run through zero.
func TestARegisterThatGoesBackwardsIsToldOfItsDigits(t *testing.T) {
	for _, digits := range []int{0, 5} {
		rows := Rows{Readings: daily(42)}
		rows.Readings[41].Register -= 5555 // 32 400 or so less 5 555 is no slip of one digit
		d := directoryOf(volumeTank("bulk", Storage, 50_000))
		d.rows.Meters[0].Digits = digits
		b, err := NewBook(NewDirectory(d.rows), "P", rows, day(31))
		if err != nil {
			t.Fatal(err)
		}
		all := b.Doubtful()
		if len(all) != 1 || all[0].Cause != GoingBackwards || strings.Contains(all[0].Message, "enter the meter's digits") != (digits == 0) {
			t.Errorf("%d digits: %+v", digits, all)
		}
	}
}

// 32 000 or so is right, of which half are 16 000; no slip of one digit explains either.
func TestANewestRegisterBelowHalfIsANewMeter(t *testing.T) {
	for register, want := range map[float64]Cause{11_777: MeterSwapped, 17_777: GoingBackwards} {
		rows := Rows{Readings: daily(42)}
		rows.Readings[41].Register = register
		if diff := cmp.Diff([]told{{"m0211", want, WholeRow}}, toldOf(bookOf(t, rows))); diff != "" {
			t.Error(diff)
		}
	}
}

// The meter is changed on 20 January and both registers are written down: what follows is held against the new one.
func TestAfterASwapRegistersAreHeldAgainstTheNewMeter(t *testing.T) {
	for register, want := range map[float64][]told{2900: nil, 290: {{"m0129", DigitDropped, WholeRow}}} {
		rows := Rows{Readings: even(42)}
		rows.Swaps = []*MeterSwap{{Plant: "P", Meter: "M", At: at(time.January, 20, 12), Closing: ptr(25_700.0), Opening: ptr(200.0)}}
		for i, r := range rows.Readings {
			r.Key = "m" + r.At.Format("0102")
			if i > 19 {
				r.Register = 200 + 300*float64(i-19)
			}
			if i == 28 {
				r.Register = register
			}
		}
		if diff := cmp.Diff(want, toldOf(bookOf(t, rows, upright("A")))); diff != "" {
			t.Error(diff)
		}
	}
}
