package chart

import (
	"math"
	"strconv"

	"overwinter/internal/calendar"
)

// point is a point of a curve: a share of the axis, and litres.
type point struct{ x, y float64 }

// Curve is a quantity at every Step-th day from From on.
type Curve struct {
	From   calendar.Day
	Step   int
	Values []int64
}

// on lays a curve on an axis and cuts it off at the axis' ends.
func (c Curve) on(a Axis) []point {
	step := max(c.Step, 1)
	all := make([]point, len(c.Values))
	for i, v := range c.Values {
		day := float64(c.From) + float64(i)*float64(step)
		all[i] = point{(day - float64(a.From)) / (float64(a.Until) - float64(a.From)), float64(max(v, 0))}
	}
	return clip(all)
}

// clip keeps what lies between 0 and 1, with the points at which the curve enters and leaves.
func clip(points []point) []point {
	kept := make([]point, 0, len(points)+2)
	for i, p := range points {
		if i > 0 {
			before := points[i-1]
			for _, edge := range []float64{0, 1} {
				if before.x < edge && p.x > edge {
					share := (edge - before.x) / (p.x - before.x)
					kept = append(kept, point{edge, before.y + share*(p.y-before.y)})
				}
			}
		}
		if p.x >= 0 && p.x <= 1 {
			kept = append(kept, p)
		}
	}
	return kept
}

// grid turns points into whole units of a drawing of a width and a height, y downward. A point beyond
// the top is kept to it.
type grid struct {
	width, height float64
	top           float64 // the litres at the upper edge
}

func (g grid) place(points []point) []point {
	placed := make([]point, len(points))
	for i, p := range points {
		y := g.height
		if g.top > 0 {
			y = g.height * (1 - min(p.y/g.top, 1))
		}
		placed[i] = point{math.Round(p.x * g.width), math.Round(y)}
	}
	return placed
}

// tolerance is how far a simplified curve may stray, in units of the grid; a unit is half a pixel or less
// in height.
const tolerance = 0.75

// simplify leaves out the points without which a curve looks the same: those nearer than the tolerance,
// upward, to the line between the points that stay (Douglas and Peucker's algorithm of 1973, from memory,
// with distances along y, since the drawing is stretched along x).
func simplify(points []point) []point {
	if len(points) < 3 {
		return points
	}
	first, last := points[0], points[len(points)-1]
	far, at := 0.0, 0
	for i, p := range points[1 : len(points)-1] {
		y := first.y
		if last.x > first.x {
			y += (last.y - first.y) * (p.x - first.x) / (last.x - first.x)
		}
		if d := math.Abs(p.y - y); d > far {
			far, at = d, i+1
		}
	}
	if far <= tolerance {
		return []point{first, last}
	}
	return append(simplify(points[:at+1]), simplify(points[at:])[1:]...)
}

// path writes points as the data of an SVG path, each but the first relative to the one before.
func path(points []point) string {
	if len(points) < 2 {
		return ""
	}
	d := append([]byte("M"), pair(points[0].x, points[0].y)...)
	for i, p := range points[1:] {
		before := points[i]
		switch step := pair(p.x-before.x, p.y-before.y); {
		case i == 0:
			d = append(append(d, 'l'), step...)
		case step[0] == '-':
			d = append(d, step...)
		default:
			d = append(append(d, ' '), step...)
		}
	}
	return string(d)
}

func pair(x, y float64) string {
	a, b := strconv.FormatFloat(x, 'f', 0, 64), strconv.FormatFloat(y, 'f', 0, 64)
	if b[0] == '-' {
		return a + b
	}
	return a + " " + b
}

// between writes the area between two curves.
func between(upper, lower []point) string {
	if len(upper) < 2 || len(lower) < 2 {
		return ""
	}
	round := append([]point(nil), upper...)
	for i := len(lower) - 1; i >= 0; i-- {
		round = append(round, lower[i])
	}
	return path(round) + "z"
}
