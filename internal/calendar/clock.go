package calendar

import "time"

// Clock tells the time; commands inject time.Now and tests a fixed instant.
type Clock func() time.Time

// At is a clock that stands still.
func At(t time.Time) Clock { return func() time.Time { return t } }
