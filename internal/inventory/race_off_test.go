//go:build !race

package inventory

// truthPlants is how many plants are simulated: two fleets of 40.
const truthPlants = 80
