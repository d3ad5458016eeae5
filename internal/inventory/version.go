package inventory

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"
)

// Version identifies the rows that the book stands on: the same rows give the same version, in
// whatever order they were read. The plant's equipment, routes, windows and limits count; other plants do not,
// though they lend this one the shape of its season.
func (b *Book) Version(d *Directory) string {
	all := []string{d.Version(b.Plant.ID)}
	for r := range b.given.All() {
		all = append(all, Digest(r))
	}
	return versionOf(all)
}

// Version identifies what the directory says of a plant: itself, its equipment, its spending limits, and its routes and windows with their past and their limits.
func (d *Directory) Version(plant string) string {
	var all []string
	add := func(r Record) { all = append(all, Digest(r)) }
	if p := d.Plant(plant); p != nil {
		add(p)
	}
	for _, t := range d.TanksOf(plant) {
		add(t)
	}
	for _, m := range d.MetersOf(plant) {
		add(m)
	}
	for _, l := range d.SpendingOf(plant) {
		add(l)
	}
	for _, r := range d.RoutesOf(plant) {
		add(r)
		for _, l := range d.LimitsOfRoute(r.ID) {
			add(l)
		}
		for _, w := range d.WindowsOf(r.ID) {
			add(w)
		}
		for _, p := range d.rows.PastWindows {
			if p.Route == r.ID {
				add(p)
			}
		}
	}
	return versionOf(all)
}

func versionOf(digests []string) string {
	slices.Sort(digests)
	sum := sha256.Sum256([]byte(strings.Join(digests, "\n")))
	return hex.EncodeToString(sum[:12])
}
