package tanks

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// node is a point of a rule of integration, with its weight.
type node struct{ at, weight float64 }

// nodesPerPanel is enough for a dished head to come out to 1e-10 of its volume at every depth.
const nodesPerPanel = 24

// Two rules of Gauss and Legendre whose nodes are moved so that an integrand may begin or end like a power of a
// half, as the area of liquid does where its surface meets the wall: halfway by x = sin t on [0, 1], for
// one such end, and across by x = sin t on [−1, 1], for two.
var (
	halfway = sineNodes(0, math.Pi/2)
	across  = sineNodes(-math.Pi/2, math.Pi/2)
)

func sineNodes(from, to float64) [nodesPerPanel]node {
	var x, w [nodesPerPanel]float64
	quad.Legendre{}.FixedLocations(x[:], w[:], from, to)
	var nodes [nodesPerPanel]node
	for i := range nodes {
		sin, cos := math.Sincos(x[i])
		nodes[i] = node{sin, w[i] * cos}
	}
	return nodes
}
