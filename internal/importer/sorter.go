package importer

import (
	"bufio"
	"bytes"
	"container/heap"
	"encoding/binary"
	"io"
	"iter"
	"os"
	"slices"

	"overwinter/internal/fault"
)

// sorter gives records in order of their bytes. It holds some megabytes of them in memory; more lie in a temporary
// file, in runs that are each in order and are merged in the end. close it when done.
type sorter struct {
	arena []byte
	spans []span // the records in arena
	file  *os.File
	ends  []int64 // where each run of the file ends
}

type span struct{ from, to int32 }

// sortedInMemory is how many bytes of records are held. A variable, so that tests need not write as many.
var sortedInMemory = 4 << 20

func (s *sorter) record(at span) []byte { return s.arena[at.from:at.to] }

func (s *sorter) add(record []byte) error {
	if len(s.spans) > 0 && len(s.arena)+len(record) > sortedInMemory {
		if err := s.spill(); err != nil {
			return err
		}
	}
	from := len(s.arena)
	s.arena = append(s.arena, record...)
	s.spans = append(s.spans, span{int32(from), int32(len(s.arena))})
	return nil
}

func (s *sorter) sort() {
	slices.SortFunc(s.spans, func(a, b span) int { return bytes.Compare(s.record(a), s.record(b)) })
}

// spill writes what is in memory as a run to the file.
func (s *sorter) spill() error {
	s.sort()
	if s.file == nil {
		file, err := os.CreateTemp("", "overwinter-*.sort")
		if err != nil {
			return noTemporary(err)
		}
		// Where an open file can be removed it goes with the process, however that ends.
		_ = os.Remove(file.Name())
		s.file = file
	}
	out := bufio.NewWriterSize(s.file, 1<<16)
	var length []byte
	for _, at := range s.spans {
		length = binary.AppendUvarint(length[:0], uint64(at.to-at.from))
		_, _ = out.Write(length) // the writer keeps its first error
		_, _ = out.Write(s.record(at))
	}
	if err := out.Flush(); err != nil {
		return noTemporary(err)
	}
	end, err := s.file.Seek(0, io.SeekCurrent)
	if err != nil {
		return noTemporary(err)
	}
	s.ends = append(s.ends, end)
	s.arena, s.spans = s.arena[:0], s.spans[:0]
	return nil
}

func noTemporary(err error) error {
	return fault.Wrap(fault.Unavailable, err, "the folder of temporary files, %s, does not serve: make room there, or name another one in the environment (TMPDIR, on Windows TMP)", os.TempDir())
}

// sorted gives the records in order. Each is overwritten by the next.
func (s *sorter) sorted() iter.Seq2[[]byte, error] {
	if s.file != nil {
		return s.merged()
	}
	return func(yield func([]byte, error) bool) {
		s.sort()
		for _, at := range s.spans {
			if !yield(s.record(at), nil) {
				return
			}
		}
	}
}

func (s *sorter) merged() iter.Seq2[[]byte, error] {
	return func(yield func([]byte, error) bool) {
		if err := s.spill(); err != nil {
			yield(nil, err)
			return
		}
		var open sortedRuns
		begin := int64(0)
		for _, end := range s.ends {
			r := &sortedRun{from: bufio.NewReaderSize(io.NewSectionReader(s.file, begin, end-begin), 1<<15)}
			begin = end
			if more, err := r.advance(); err != nil {
				yield(nil, err)
				return
			} else if more {
				open = append(open, r)
			}
		}
		heap.Init(&open)
		for len(open) > 0 {
			if !yield(open[0].record, nil) {
				return
			}
			if more, err := open[0].advance(); err != nil {
				yield(nil, err)
				return
			} else if more {
				heap.Fix(&open, 0)
			} else {
				heap.Pop(&open)
			}
		}
	}
}

func (s *sorter) close() {
	if s.file != nil {
		_ = s.file.Close() // nothing in it is needed any more
		_ = os.Remove(s.file.Name())
	}
}

// sortedRun is one run of the file, at the record that comes next.
type sortedRun struct {
	from   *bufio.Reader
	record []byte
}

// advance reads the next record; more is false at the end of the run.
func (r *sortedRun) advance() (more bool, err error) {
	length, err := binary.ReadUvarint(r.from)
	if err == io.EOF {
		return false, nil
	}
	if err == nil {
		r.record = slices.Grow(r.record[:0], int(length))[:length]
		_, err = io.ReadFull(r.from, r.record)
	}
	if err != nil {
		return false, noTemporary(err)
	}
	return true, nil
}

// sortedRuns is a heap: the run whose record comes first is at its top.
type sortedRuns []*sortedRun

func (r sortedRuns) Len() int           { return len(r) }
func (r sortedRuns) Less(i, j int) bool { return bytes.Compare(r[i].record, r[j].record) < 0 }
func (r sortedRuns) Swap(i, j int)      { r[i], r[j] = r[j], r[i] }
func (r *sortedRuns) Push(x any)        { *r = append(*r, x.(*sortedRun)) }
func (r *sortedRuns) Pop() any {
	last := (*r)[len(*r)-1]
	*r = (*r)[:len(*r)-1]
	return last
}
