package importer

import (
	"bytes"
	"encoding/binary"

	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// replacer is the first row of a file that replaces a certain other one.
type replacer struct {
	key  string
	line int
}

// noteReplaced notes what a row replaces and refuses a second row that replaces the same one.
func (t *table) noteReplaced(e entered) {
	base := e.record.Base()
	if base.Replaces == "" {
		return
	}
	first, there := t.replaced[base.Replaces]
	switch {
	case !there:
		t.replaced[base.Replaces] = replacer{base.Key, e.line}
	case first.key != base.Key: // else it is the same row again: see unique
		t.problem(e.line, "replaces", "row %d replaces %s already: replace that row instead", first.line, base.Replaces)
	}
}

// inForce tells whether a row stands for something and no other of its file replaces it.
func (t *table) inForce(e entered) bool {
	base := e.record.Base()
	_, replaced := t.replaced[base.Key]
	return !base.Void && !replaced
}

// keyRecord is a row's key and line in a form whose order brings rows of one key together, the first line first.
func keyRecord(e entered) []byte {
	key := e.record.Base().Key
	record := binary.BigEndian.AppendUint32(make([]byte, 0, 4+len(key)+8), uint32(len(key)))
	record = append(record, key...)
	return binary.BigEndian.AppendUint64(record, uint64(e.line))
}

func readKeyRecord(record []byte) (key []byte, line int) {
	at := len(record) - 8
	return record[4:at], int(binary.BigEndian.Uint64(record[at:]))
}

// unique finds rows that repeat an earlier one, and names those that contradict one.
func (t *table) unique(keys *sorter) error {
	t.repeated = map[int]int{}
	var firstKey []byte
	firstLine := 0
	for record, err := range keys.sorted() {
		if err != nil {
			return err
		}
		key, line := readKeyRecord(record)
		if firstLine > 0 && bytes.Equal(key, firstKey) {
			t.repeated[line] = firstLine
			continue
		}
		firstKey, firstLine = append(firstKey[:0], key...), line
	}
	if len(t.repeated) == 0 {
		return nil
	}
	return t.compare()
}

// compare tells rows that repeat the first of their key from those that say something else. The rows themselves are
// only looked at here: few files have any.
func (t *table) compare() error {
	content := map[int]string{} // by line: the digest of each first row
	for _, first := range t.repeated {
		content[first] = ""
	}
	return t.reread(func(e entered) error {
		if _, first := content[e.line]; first {
			content[e.line] = inventory.Digest(e.record)
			return nil
		}
		first, later := t.repeated[e.line]
		switch key := e.record.Base().Key; {
		case !later:
		case content[first] == inventory.Digest(e.record):
			t.run.notices.add(t.file, e.line, notice.New(notice.Caution, CodeRowRepeated, t.file,
				"the row repeats row %d and counts once: if both happened, give each a key of its own", first))
		default:
			t.problem(e.line, "key", "row %d has the same key, %s, and other content: leave one of them out, or give the correction a key of its own and put %s into replaces",
				first, key, key)
		}
		return nil
	})
}

// CodeRowRepeated is the notice about a row that stands twice in one file.
const CodeRowRepeated = "row-repeated"

// singles refuses a second row in force for one plant, tank, meter, route, service, window or order, or for one
// stretch of a group's degree days. The ledger's rows count where they are no corrections: what an older row of the folder was
// corrected to since is not seen from here, and the store knows better.
func (t *table) singles() {
	ledger := map[string]string{}
	for r := range t.run.ledger.All() {
		if base := r.Base(); r.Kind() == t.kind && base.Replaces == "" {
			ledger[t.identity(r)] = base.Key
		}
	}
	lines := map[string]int{}
	for _, e := range t.rows {
		if !t.inForce(e) {
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
