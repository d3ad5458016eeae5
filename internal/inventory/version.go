package inventory

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"
)

// Version identifies the rows that the book stands on: the same rows give the same version, in
// whatever order they were read. The plant's equipment, routes and windows count; other plants do not,
// though they lend this one the shape of its season.
func (b *Book) Version(d *Directory) string {
	var all []string
	add := func(r Record) { all = append(all, Digest(r)) }
	add(b.Plant)
	for r := range b.rows.All() {
		add(r)
	}
	for _, t := range d.TanksOf(b.Plant.ID) {
		add(t)
	}
	for _, m := range b.meters {
		add(m)
	}
	for _, r := range d.RoutesOf(b.Plant.ID) {
		add(r)
		for _, w := range d.WindowsOf(r.ID) {
			add(w)
		}
	}
	slices.Sort(all)
	sum := sha256.Sum256([]byte(strings.Join(all, "\n")))
	return hex.EncodeToString(sum[:12])
}
