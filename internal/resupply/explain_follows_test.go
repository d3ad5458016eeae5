package resupply

import (
	"fmt"

	"overwinter/internal/calendar"
)

// follows tells what of an answer does not follow from what is printed.
func follows(d Decision, x printed) error {
	for _, part := range []*printedPath{&x.printedPath, x.Need, x.Room} {
		if part == nil {
			continue
		}
		if err := part.adds(); err != nil {
			return err
		}
	}
	o := d.Order
	if o == nil {
		return nil
	}
	day, err := x.orderBy()
	if err != nil {
		return err
	}
	asOf, err := calendar.ParseDay(x.Lines[0].Day)
	if err != nil {
		return err
	}
	if want := (asOf + calendar.Day(o.By.Day)).String(); day != want {
		return fmt.Errorf("the printed steps give order by %s, the answer is %s", day, want)
	}
	if err := binds(d, x); err != nil {
		return err
	}
	lot, err := x.lot()
	if err != nil {
		return err
	}
	if float64(lot) != o.Lot.Lot {
		return fmt.Errorf("the printed steps give a lot of %d L, the answer is %v", lot, o.Lot.Lot)
	}
	return nil
}

// binds tells whether a guard other than the one that is named sets the last day.
func binds(d Decision, x printed) error {
	o := d.Order
	if x.Guard != string(o.By.Guard) {
		return fmt.Errorf("guard %q is printed, %q sets the day", x.Guard, o.By.Guard)
	}
	guards := []Last{o.Shuts}
	if d.Status != Short {
		guards = append(guards, o.Reserve)
	}
	if o.Late != nil {
		guards = append(guards, *o.Late)
	}
	for _, g := range guards {
		if g.Day < o.due {
			return fmt.Errorf("%s sets day %d, but %s day %d", o.By.Guard, o.due, g.Guard, g.Day)
		}
	}
	return nil
}
