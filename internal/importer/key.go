package importer

import (
	"strings"
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/notice"
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

// replaced gives the keys of the rows that others of this file replace, with the line of the first
// that does.
func (t *table) replaced() map[string]int {
	lines := map[string]int{}
	for _, e := range t.rows {
		if k := e.record.Base().Replaces; k != "" && lines[k] == 0 {
			lines[k] = e.line
		}
	}
	return lines
}

func (e entered) inForce(replaced map[string]int) bool {
	base := e.record.Base()
	return !base.Void && replaced[base.Key] == 0
}

// unique drops rows that repeat an earlier one and names those that contradict one.
func (t *table) unique() {
	first := make(map[string]int, len(t.rows)) // key to index in kept
	kept := t.rows[:0]
	for _, e := range t.rows {
		k := e.record.Base().Key
		i, known := first[k]
		switch {
		case e.bad:
		case !known:
			first[k] = len(kept)
			kept = append(kept, e)
		case inventory.Digest(kept[i].record) == inventory.Digest(e.record):
			t.run.notices.add(t.file, e.line, notice.New(notice.Caution, CodeRowRepeated, t.file,
				"the row repeats row %d and counts once: if both happened, give each a key of its own", kept[i].line))
		default:
			t.problem(e.line, "key", "row %d has the same key, %s, and other content: leave one of them out, or give the correction a key of its own and put %s into replaces",
				kept[i].line, k, k)
		}
	}
	t.rows = kept
	t.corrections()
	if t.single {
		t.singles()
	}
}

// CodeRowRepeated is the notice about a row that stands twice in one file.
const CodeRowRepeated = "row-repeated"

// corrections refuses two rows that replace the same one.
func (t *table) corrections() {
	first := t.replaced()
	for _, e := range t.rows {
		if k := e.record.Base().Replaces; k != "" && first[k] != e.line {
			t.problem(e.line, "replaces", "row %d replaces %s already: replace that row instead", first[k], k)
		}
	}
}

// singles refuses a second row in force for one plant, tank, meter, route, service, window or order.
// The ledger's rows count where they are no corrections: what an older row of the folder was
// corrected to since is not seen from here, and the store knows better.
func (t *table) singles() {
	ledger := map[string]string{}
	for r := range t.run.ledger.All() {
		if base := r.Base(); r.Kind() == t.kind && base.Replaces == "" {
			ledger[t.identity(r)] = base.Key
		}
	}
	replaced := t.replaced()
	lines := map[string]int{}
	for _, e := range t.rows {
		if !e.inForce(replaced) {
			continue
		}
		id, base := t.identity(e.record), e.record.Base()
		if line := lines[id]; line > 0 {
			t.problem(e.line, "key", "row %d is about the same %s: leave one of them out, or say in replaces which one is corrected", line, t.kind)
			continue
		}
		lines[id] = e.line
		if known, ok := ledger[id]; ok && known != base.Key && base.Replaces == "" {
			t.problem(e.line, "key", "the ledger has this %s under the key %s: leave the row out, or put that key into replaces", t.kind, known)
		}
	}
}
