package importer

import (
	"bytes"
	"encoding/binary"
	"math"
	"time"

	"overwinter/internal/inventory"
	"overwinter/internal/notice"
)

// registers brings the readings and swaps in force into the order of meters and time, whatever the order of the files,
// and looks for registers that run backward.
type registers struct{ sorter }

// The end of a record in the sorter: time, kind, line, register. A swap comes before a reading of the same time.
const (
	registerTail  = 8 + 1 + 8 + 8
	swapRecord    = 0
	readingRecord = 1
)

// add takes a reading or a swap; others do not matter here.
func (r *registers) add(e entered) error {
	switch row := e.record.(type) {
	case *inventory.MeterReading:
		return r.put(row.Plant, row.Meter, row.At, readingRecord, e.line, row.Register)
	case *inventory.MeterSwap:
		return r.put(row.Plant, row.Meter, row.At, swapRecord, e.line, 0)
	}
	return nil
}

// put adds a record whose bytes are in the order of plant, meter, time, kind and line. A sound name holds no zero byte.
func (r *registers) put(plant, meter string, at time.Time, kind byte, line int, register float64) error {
	record := make([]byte, 0, len(plant)+len(meter)+2+registerTail)
	record = append(append(record, plant...), 0)
	record = append(append(record, meter...), 0)
	record = binary.BigEndian.AppendUint64(record, uint64(at.UnixMilli())^1<<63) // negative times come first
	record = append(record, kind)
	record = binary.BigEndian.AppendUint64(record, uint64(line))
	return r.sorter.add(binary.BigEndian.AppendUint64(record, math.Float64bits(register)))
}

// atATime is how many readings of a meter are looked through together.
const atATime = 1000

// backward raises the notices of inventory.BackwardMeters. A notice is about two readings that follow each other, so
// a part of a meter's readings is enough, if the last of it stands at the head of the next.
func (r *registers) backward(dir *inventory.Directory, raise func(notice.Notice)) error {
	var part registerPart
	look := func() {
		for _, n := range inventory.BackwardMeters(part.readings, part.swaps, dir) {
			raise(n)
		}
	}
	var meter []byte
	for record, err := range r.sorted() {
		if err != nil {
			return err
		}
		if of := record[:len(record)-registerTail]; !bytes.Equal(of, meter) {
			look()
			part, meter = registerPart{}, append(meter[:0], of...)
		} else if len(part.readings) == atATime {
			look()
			part.keepLast()
		}
		part.add(record)
	}
	look()
	return nil
}

// registerPart is a part of one meter's readings, in order of time, with the swaps around them.
type registerPart struct {
	readings []*inventory.MeterReading
	swaps    []*inventory.MeterSwap
	swapped  bool // a swap came last
}

func (p *registerPart) add(record []byte) {
	tail := record[len(record)-registerTail:]
	names := bytes.Split(record[:len(record)-registerTail], []byte{0})
	plant, meter := string(names[0]), string(names[1])
	at := time.UnixMilli(int64(binary.BigEndian.Uint64(tail) ^ 1<<63)).UTC()
	if tail[8] == readingRecord {
		p.readings = append(p.readings, &inventory.MeterReading{Plant: plant, Meter: meter, At: at,
			Register: math.Float64frombits(binary.BigEndian.Uint64(tail[17:]))})
		p.swapped = false
		return
	}
	if p.swapped { // of several swaps between two readings one is enough: the last may be at the next one's time
		p.swaps = p.swaps[:len(p.swaps)-1]
	}
	p.swaps = append(p.swaps, &inventory.MeterSwap{Plant: plant, Meter: meter, At: at})
	p.swapped = true
}

// keepLast keeps the last reading and the last swap, which may have come after it or at its time.
func (p *registerPart) keepLast() {
	p.readings = p.readings[len(p.readings)-1:]
	if len(p.swaps) > 0 {
		p.swaps = p.swaps[len(p.swaps)-1:]
	}
}
