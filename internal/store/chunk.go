package store

import (
	"cmp"
	"iter"
	"slices"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// atOnce is how many rows of a stream are made ready and given to the engine at a time: enough that the call
// costs nothing beside them, few enough that they fit in little memory. Up to three such chunks are there at
// once: one being made, one waiting, one being written.
const atOnce = 5_000

// chunk is a part of a stream, ready to be written.
type chunk struct {
	rows      map[inventory.Kind][]row // in order of their keys, which differ
	taken     int                      // rows of the stream
	repeated  int                      // those of them that stand in the chunk more than once with one content
	conflicts []fault.Field
	wrong     []fault.Field // values that cannot be kept
	failure   error         // of the stream itself, after which it ends

	at map[inventory.Kind]map[string]int // where in rows a key stands
}

// chunks makes a stream ready, a chunk at a time.
func chunks(rows iter.Seq2[inventory.Record, error], recordedMS int64) iter.Seq[*chunk] {
	return func(yield func(*chunk) bool) {
		c := newChunk()
		for record, err := range rows {
			if err != nil {
				yield(&chunk{failure: err})
				return
			}
			if c.add(record, recordedMS); c.taken < atOnce {
				continue
			}
			if c.sort(); !yield(c) {
				return
			}
			c = newChunk()
		}
		c.sort()
		yield(c)
	}
}

func newChunk() *chunk {
	return &chunk{rows: map[inventory.Kind][]row{}, at: map[inventory.Kind]map[string]int{}}
}

func (c *chunk) add(record inventory.Record, recordedMS int64) {
	c.taken++
	r, wrong := prepareRow(record, recordedMS)
	if wrong != nil {
		c.wrong = append(c.wrong, wrong...)
		return
	}
	kind := record.Kind()
	if c.at[kind] == nil {
		c.at[kind] = map[string]int{}
	}
	i, twice := c.at[kind][r.key]
	switch {
	case twice && c.rows[kind][i].digest == r.digest:
		c.repeated++
	case twice:
		c.conflicts = append(c.conflicts, fault.Field{Where: r.where(), Message: usedTwice})
	default:
		c.at[kind][r.key] = len(c.rows[kind])
		c.rows[kind] = append(c.rows[kind], r)
	}
}

const usedTwice = "the key is used twice with different content: give each row a key of its own"

// sort puts the rows in order of keys: neighbouring keys lie side by side in the table, so they are written faster.
func (c *chunk) sort() {
	for _, rows := range c.rows {
		slices.SortFunc(rows, func(a, b row) int { return cmp.Compare(a.key, b.key) })
	}
}
