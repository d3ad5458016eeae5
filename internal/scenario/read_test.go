package scenario

import (
	"strings"
	"testing"
)

// sound is a script without a fault; the tests below put one in.
const sound = `title: A sound script
happens: The tank falls.
naive: It falls by another figure.
plant P: zone UTC, product diesel-2-s15, assumed 15 C
tank bulk: storage, capacity 60 000 L
2026-03-01 08:00 gauging of bulk: 41 000 L, at 15 C
2026-03-02 08:00 gauging of bulk: 40 000 L, at 15 C
work: 41 000 L - 40 000 L = 1 000 L
work: 41 000 × 2 = 82 000
as of 2026-03-02:
consumed: 1 000 L within 1
notices: none
naive consumed: 82 000 L
`

func TestASoundScriptIsRead(t *testing.T) {
	if s := read(sound); s.faults != nil || len(s.entries) != 4 || len(s.questions) != 1 || len(s.questions[0].answers) != 3 {
		t.Errorf("%d rows, %d questions, faults %v", len(s.entries), len(s.questions), s.faults)
	}
}

func TestAScriptThatSaysTooLittleOrTheUnknownIsRefused(t *testing.T) {
	tests := []struct{ name, from, to, want string }{
		{"an unknown expectation", "consumed: 1 000 L within 1", "spilt: 1 000 L within 1", `"spilt" is not understood`},
		{"an unknown event", "gauging of bulk: 41", "glancing at bulk: 41", "nothing known happens here"},
		{"an unknown clause", "41 000 L, at 15 C", "41 000 L, at 15 C, in a hurry", `"in a hurry" is not understood`},
		{"an unknown clause of an expectation", "within 1\n", "within 1, roughly\n", `"roughly" is not understood`},
		{"no expectation", "consumed: 1 000 L within 1\nnotices: none\nnaive consumed: 82 000 L\n", "", "nothing is expected of this day"},
		{"no question", "as of 2026-03-02:\nconsumed: 1 000 L within 1\nnotices: none\nnaive consumed: 82 000 L\n", "", "nothing is expected: "},
		{"nothing said of notices", "notices: none\n", "", "say which notices come"},
		{"no tolerance", "consumed: 1 000 L within 1", "consumed: 1 000 L", "how near it has to be met"},
		{"no title", "title: A sound script\n", "", "begins with a title"},
		{"no naive figure", "naive consumed: 82 000 L\n", "", "the naive figure is missing"},
		{"a naive figure of something else", "naive consumed", "naive stock", "nothing is expected of"},
		{"a naive figure close to the right one", "work: 41 000 × 2 = 82 000", "work: 1 000 + 9 = 1 009", "can hardly be told"},
		{"a figure that nothing comes to", "consumed: 1 000 L within 1", "consumed: 999 L within 1", "no sum in the script comes to 999"},
		{"a wrong sum", "= 1 000 L", "= 1 001 L", "comes to 1000, not 1001"},
		{"a sum that cannot be reckoned", "41 000 L - 40 000 L", "41 000 L % 40 000 L", "only numbers"},
		{"a wrong factor", "work: 41 000 × 2", "vcf: -4 C, 840 = 1.0170\nwork: 41 000 × 2", "1.0159"},
		{"a day that does not exist", "2026-03-02 08:00", "2026-02-30 08:00", "is no moment"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			script := strings.Replace(sound, tt.from, tt.to, 1)
			if tt.name == "a naive figure close to the right one" {
				script = strings.Replace(script, "82 000 L", "1 009 L", 1)
			}
			if faults := strings.Join(read(script).faults, "\n"); !strings.Contains(faults, tt.want) {
				t.Errorf("%q: want %q among the faults", faults, tt.want)
			}
		})
	}
}

func TestALineOfSeveralDaysIsWrittenOut(t *testing.T) {
	got := repeated("2026-02-23 08:00 and every 7 days to 2026-03-09 reading of M: 9 900 more by 100 each, at 15 C")
	want := []string{
		"2026-02-23 08:00 reading of M: 9900, at 15 C",
		"2026-03-02 08:00 reading of M: 10000, at 15 C",
		"2026-03-09 08:00 reading of M: 10100, at 15 C",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got %q", got)
	}
}

func TestSumsAreReckonedAsOnAPocketCalculator(t *testing.T) {
	for _, sum := range []string{"2 + 3 × 4 = 14", "root(3 × 3 + 4 × 4) = 5", "−(1 − 3) / 3 = 0.67", "41 000 L × 1.00912 = 41 373.9 L"} {
		if _, err := work(sum); err != nil {
			t.Error(err)
		}
	}
	for _, sum := range []string{"2 / 3 = 0.66", "2 + 2", "two = 2", "root(4, 9) = 2", "1 / 0 = 0"} {
		if result, err := work(sum); err == nil {
			t.Errorf("%s passes for %v", sum, result)
		}
	}
}

// What the books say of the sound script, one figure at a time made wrong.
func TestAFigureThatTheBooksDoNotGiveIsFound(t *testing.T) {
	tests := []struct{ name, from, to, want string }{
		{"none", "", "", ""},
		{"consumption", "consumed: 1 000 L", "consumed: 1 100 L", "consumed: 1000.000 L"},
		{"a notice that does not come", "notices: none", "notices: are meter-misread", "notices: []"},
		{"an interval that is not there", "notices", "usage 2026-03-01 08:00 to 2026-03-02 09:00: 1 000 L within 1\nnotices", "there is no usage interval"},
		{"a doubt that nobody has", "notices", "doubt of gauging: cause fall-unexplained\nnotices", "no doubt of gauging"},
		{"their number", "notices", "usages: 2\nnotices", "1 usage intervals"},
		{"an unknown stock", "notices", "stock: unknown\nnotices", "the stock is known: 40000.0"},
		{"stock", "notices", "stock: 41 000 L within 1\nnotices", "stock: 40000.000 L"},
		{"its deviation", "notices", "stock: 40 000 L within 1, sigma 1 100 L within 1\nnotices", "stock, sigma: "},
	}
	db := ledger(t, engines[0].url(t))
	t.Cleanup(func() { _ = db.Close() })
	played := read(sound)
	if amiss := played.play(t, db); amiss != nil {
		t.Fatal(amiss)
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			q := read(strings.Replace(sound, tt.from, tt.to, 1)).questions[0] // no sum comes to the wrong figures
			if amiss := strings.Join(q.hold(played.ask(t, db, q, asRead), ""), "\n"); !strings.Contains(amiss, tt.want) || (amiss == "") != (tt.want == "") {
				t.Errorf("amiss: %q, want %q", amiss, tt.want)
			}
		})
	}
}
