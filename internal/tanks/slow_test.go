package tanks

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"overwinter/internal/units"
)

// wall is the outline of a head as textbooks draw it: how far the wall has drawn in at x beyond the tangent line, where
// that formula ends, and where the wall has drawn in by s. Nothing of it is shared with the heads under test.
type wall struct {
	sag, reach func(float64) float64
	tip, joint float64
}

func wallOf(t *testing.T, head Head, radius float64) wall {
	deep, err := head.Depth(units.Millimetres(2 * radius))
	if err != nil {
		t.Fatal(err)
	}
	tip := float64(deep)
	root := func(x float64) float64 { return math.Sqrt(max(0, x)) }
	switch head.kind {
	case conicalHead:
		return wall{func(x float64) float64 { return radius * x / tip }, func(s float64) float64 { return tip * s / radius }, tip, 0}
	case dishedHead:
		behind := (radius - tip) * (radius + tip) / (2 * tip)
		return wall{
			func(x float64) float64 {
				lost := x * (x + 2*behind)
				return lost / (radius + root(radius*radius-lost))
			},
			func(s float64) float64 {
				lost := s * (2*radius - s)
				return lost / (behind + math.Sqrt(behind*behind+lost))
			}, tip, 0}
	}
	dish, knuckle := 2*radius*head.dish, 2*radius*head.knuckle
	centre := tip - dish
	joint := -centre * knuckle / (dish - knuckle)
	return wall{
		func(x float64) float64 {
			if x <= joint {
				return x * x / (knuckle + root(knuckle*knuckle-x*x))
			}
			return radius - root((tip-x)*(dish+x-centre))
		},
		func(s float64) float64 {
			if x := root(s * (2*knuckle - s)); s <= knuckle && x <= joint {
				return x
			}
			r := radius - s
			return tip - r*r/(dish+root((dish-r)*(dish+r)))
		}, tip, joint}
}

// slowSegment is r²/2·(u − sin u), with the power series of the sine where u is small.
func slowSegment(radius, depth float64) float64 {
	switch {
	case !(depth > 0 && radius > 0):
		return 0
	case depth >= 2*radius:
		return math.Pi * radius * radius
	}
	u := 4 * math.Asin(math.Sqrt(depth/(2*radius)))
	if u > 1 {
		return radius * radius / 2 * (u - math.Sin(u))
	}
	sum := 0.0
	for n := 17.0; n >= 5; n -= 2 {
		sum = u * u / (n * (n - 1)) * (1 - sum)
	}
	return radius * radius / 12 * u * u * u * (1 - sum)
}

// slow is a lying head below a surface by the rule of midpoints, each stretch between the given cuts on its own and
// crowded toward both its ends.
func (w wall) slow(radius float64, s surface, cuts []float64) float64 {
	const points = 40_000
	sum := 0.0
	for i := 1; i < len(cuts); i++ {
		middle, half := (cuts[i]+cuts[i-1])/2, (cuts[i]-cuts[i-1])/2
		for j := range points {
			sin, cos := math.Sincos(math.Pi * ((float64(j)+0.5)/points - 0.5))
			x := middle + half*sin
			drawn := w.sag(x)
			sum += slowSegment(radius-drawn, s.at(x)-drawn) * cos * half * math.Pi / points
		}
	}
	return sum
}

// level is slow where the surface is level: cut at the joint and where the surface meets the wall.
func (w wall) level(radius, h float64) float64 {
	cuts := []float64{0, w.tip}
	if h < radius {
		cuts[1] = w.reach(h)
	} else if h > radius && h < 2*radius {
		cuts = []float64{0, w.reach(2*radius - h), w.tip}
	}
	for i := range cuts {
		if i > 0 && cuts[i-1] < w.joint && w.joint < cuts[i] {
			cuts = append(cuts[:i:i], append([]float64{w.joint}, cuts[i:]...)...)
			break
		}
	}
	return w.slow(radius, surface{begin: h}, cuts)
}

var allHeads = []Head{
	FlangedAndDishedHead(), DIN28011Head(), DIN28013Head(), TorisphericalHead(50, 0.01), TorisphericalHead(0.51, 0.49),
	TorisphericalHead(100, 0.4), TorisphericalHead(0.6, 0.001), DishedHead(300), DishedHead(1199.9), DishedHead(1), ConicalHead(600), ConicalHead(1),
	ConicalHead(12000),
}

// headsToCheck are all of them, or each fourth where the race detector makes everything ten times slower.
var headsToCheck = func() (some []Head) {
	for i := 0; i < len(allHeads); i += thinned {
		some = append(some, allHeads[i])
	}
	return some
}()

func TestHeadsAreIntegratedToNineDigitsAtEveryDepth(t *testing.T) {
	const radius = 1200
	worst := 0.0
	for _, head := range headsToCheck {
		p, err := head.profile("head", 2*radius)
		if err != nil {
			t.Fatal(err)
		}
		w, tank := wallOf(t, head, radius), headed{lyingCylinder{radius, 6000}, p, p}
		for _, h := range []float64{1e-6, 1e-3, 1, 10, 72, 100, 144, 145, 300, 600, 900, 1100, 1190, 1199, 1199.9, 1200, 1201, 1300, 2000, 2399, 2400} {
			want := w.level(radius, h)
			got := tank.lyingHead(p, h)
			worst = max(worst, math.Abs(got/want-1))
			if !(math.Abs(got/want-1) <= 1e-9) {
				t.Errorf("%+v below %v mm: %v, want %v: off by %.2g", head, h, got, want, got/want-1)
			}
		}
	}
	t.Logf("largest difference %.2g", worst)
}

// A sloping surface meets the wall's bottom and top somewhere: stretches so short that it does not matter where.
func TestHeadsUnderASlopingSurfaceAreIntegratedToNineDigits(t *testing.T) {
	const radius = 1200
	worst := 0.0
	for _, head := range headsToCheck {
		p, err := head.profile("head", 2*radius)
		if err != nil {
			t.Fatal(err)
		}
		w := wallOf(t, head, radius)
		cuts := w.crowded()
		whole := p.revolved(p.depth())
		for _, rise := range []float64{-0.2, -0.01, 1e-9, 0.003, 0.07, 0.2} {
			for _, h := range []float64{-50, 3, 60, 141, 600, 1190, 1200, 1207, 1800, 2300, 2399, 2450} {
				s := surface{h, rise}
				want := w.stretches(radius, s, cuts)
				got := p.sloping(s)
				worst = max(worst, math.Abs(got-want)/whole)
				if !(math.Abs(got-want) <= 1e-9*whole) {
					t.Errorf("%+v, %v mm, rise %v: %v, want %v: off by %.2g of the head", head, h, rise, got, want, (got-want)/whole)
				}
			}
		}
	}
	t.Logf("largest difference %.2g of the head", worst)
}

// stretches sums many short ones by 20 points of Gauss and Legendre each.
func (w wall) stretches(radius float64, s surface, cuts []float64) float64 {
	sum := 0.0
	for i := 1; i < len(cuts); i++ {
		sum += quad.Fixed(func(x float64) float64 {
			drawn := w.sag(x)
			return slowSegment(radius-drawn, s.at(x)-drawn)
		}, cuts[i-1], cuts[i], 20, quad.Legendre{}, 1)
	}
	return sum
}

// crowded are the bounds of many stretches, shortest at the ends and at the joint.
func (w wall) crowded() []float64 {
	const each = 250
	cuts := []float64{0}
	for _, end := range []float64{w.joint, w.tip} {
		if from := cuts[len(cuts)-1]; end > from {
			for i := 1; i <= each; i++ {
				cuts = append(cuts, from+(end-from)*(1-math.Cos(math.Pi*float64(i)/each))/2)
			}
		}
	}
	return cuts
}
