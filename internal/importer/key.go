package importer

import (
	"strings"
	"time"

	"overwinter/internal/inventory"
)

// key joins identifying fields with slashes; a slash inside one is written %2F, so that no two rows
// with other fields share a key.
func key(parts ...string) string {
	var b strings.Builder
	for i, p := range parts {
		if i > 0 {
			b.WriteByte('/')
		}
		if strings.ContainsAny(p, "/%") {
			p = escape.Replace(p)
		}
		b.WriteString(p)
	}
	return strings.TrimRight(b.String(), "/")
}

var escape = strings.NewReplacer("%", "%25", "/", "%2F")

// instant writes a moment for a key: in UTC, so that local time and offset give the same key.
func instant(at time.Time) string { return at.UTC().Format("2006-01-02T15:04:05Z") }

// mark names a row among all kinds.
type mark struct {
	kind inventory.Kind
	key  string
}

// inForce gives the rows that no row replaces and that are not withdrawn, each key once. Of two rows
// for one thing the ledger's comes last, where the directory finds it: the folder's is then an older
// one, loaded again.
func inForce(ledger, folder inventory.Rows) inventory.Rows {
	inLedger := map[mark]bool{}
	for r := range ledger.All() {
		inLedger[mark{r.Kind(), r.Base().Key}] = true
	}
	replaced := map[mark]bool{}
	for _, rows := range []*inventory.Rows{&folder, &ledger} {
		for r := range rows.All() {
			if base := r.Base(); base.Replaces != "" {
				replaced[mark{r.Kind(), base.Replaces}] = true
			}
		}
	}
	var standing inventory.Rows
	add := func(rows inventory.Rows, known map[mark]bool) {
		for r := range rows.All() {
			id := mark{r.Kind(), r.Base().Key}
			if !r.Base().Void && !replaced[id] && !known[id] {
				standing.Add(r)
			}
		}
	}
	add(folder, inLedger)
	add(ledger, nil)
	return standing
}
