package inventory

import (
	"math"
	"time"
)

// loss is what left a plant between two moments, and what one of its tanks may have lost.
type loss struct {
	usual   float64 // of the plant, as at other times
	run     float64 // of the plant, by its meters; only where metered
	metered bool
	drawn   float64 // of the plant, as far as it may have been in between
	moved   float64 // out of the tank into others
	most    float64 // of the tank; only where known
	known   bool
}

func (l *tankLine) loss(from, to time.Time) (lost loss) {
	usual, far, known := l.out.between(from, to)
	lost = loss{usual: usual, known: known, drawn: l.drawnWithin(from, to), moved: l.movedOut(l.tank.ID, from, to)}
	if run, ok := l.ranBetween(from, to); ok {
		lost.run, lost.metered, lost.known = run, true, true
		far = math.Max(far, run+lost.drawn)
	}
	lost.most = far/l.tank.ownShare() + l.buffers + lost.moved
	return lost
}

// mostFall is how much a tank may lose between two moments.
func (l *tankLine) mostFall(from, to time.Time) (most float64, ok bool) {
	lost := l.loss(from, to)
	return lost.most, lost.known
}
