package replay

import (
	"encoding/csv"
	"io"
	"strconv"

	"overwinter/internal/fault"
)

// Write writes a line a score.
func Write(out io.Writer, scores []Score) error {
	w := csv.NewWriter(out)
	_ = w.Write([]string{
		"series_id", "policy", "seed", "cost", "fuel", "stops", "fallback", "carrying", "left",
		"opening_l", "delivered_l", "fallback_l", "burned_l", "closing_l", "unserved_l", "deliveries", "days", "days_below_reserve", "days_below_after_failed", "days_dry",
	}) // an error comes again from Flush
	for i := range scores {
		s := &scores[i]
		line := []string{s.Plant.ID, s.Policy, strconv.Itoa(s.World)}
		for _, x := range []float64{s.Cost(), s.Fuel, s.Stops, s.Flown, s.Carrying, s.Left} {
			line = append(line, strconv.FormatFloat(x, 'f', 2, 64))
		}
		for _, x := range []float64{s.Opening, s.Delivered, s.Fallback, s.Burned, s.Closing, s.Unserved} {
			line = append(line, strconv.FormatFloat(x, 'f', 1, 64))
		}
		for _, n := range []int{s.Deliveries, s.Days, s.Below, s.BelowAfterFailed, s.Dry} {
			line = append(line, strconv.Itoa(n))
		}
		_ = w.Write(line)
	}
	w.Flush()
	if err := w.Error(); err != nil {
		return fault.Wrap(fault.Internal, err, "the scores cannot be written")
	}
	return nil
}
