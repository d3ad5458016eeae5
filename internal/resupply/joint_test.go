package resupply

import "testing"

// Of 200 paths four may miss a target of 5 %: one loses the window, and on three it opens after the reserve is
// reached on day 81. None is left, so the worst of the others decides, path 10 with its lead time of 50 days: by
// 81 − 5 − 50 = 26 for the reserve or, where the window closes on day 75 there, by 75 − 5 − 50 = 20. The others
// could be ordered for until day 46, and as soon as today's order until 60 − 30.
func TestWhereBothGuardsTogetherLeaveADayThePathThatDecidesIsNamed(t *testing.T) {
	for guard, want := range map[Guard]int{ReserveGuard: 26, WindowGuard: 20} {
		p := plain()
		w := &p.Windows[0]
		w.LossChance, w.Opens[0] = 0.02, Never
		w.Opens[1], w.Opens[2], w.Opens[3] = 100, 100, 100
		w.Lead[10] = 50
		if guard == WindowGuard {
			w.Closes[10] = 75
		}
		d := Decide(p)
		if o := d.Order; d.Status != OrderNow || o.By != (Last{guard, want, 10}) {
			t.Errorf("%s, order by %+v; want day %d by the %s on path 10", d.Status, o.By, want, guard)
		}
		x, err := read(d.Explanation)
		if err != nil {
			t.Fatal(err)
		}
		if err := follows(d, x); err != nil {
			t.Error(err)
		}
	}
}
