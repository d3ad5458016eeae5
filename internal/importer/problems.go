package importer

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"

	"overwinter/internal/fault"
	"overwinter/internal/notice"
)

// listed is how many problems are named one by one; a folder with more has a common cause.
const listed = 200

// place is where a problem stands. No line means the file as a whole, no column the row as a whole.
type place struct {
	order  int // of the file
	file   string
	line   int
	column string
}

func (p place) String() string {
	text := p.file
	if p.line > 0 {
		text += ":" + strconv.Itoa(p.line)
	}
	if p.column != "" {
		text += ":" + p.column
	}
	return text
}

type problem struct {
	at      place
	message string
}

// problems keeps the first problems of each file and counts the rest.
type problems struct {
	kept    []problem
	count   int
	partial bool // some rows could not be checked for the problems of others
}

func (p *problems) add(at place, message string) {
	p.count++
	if len(p.kept) < listed {
		p.kept = append(p.kept, problem{at, message})
	}
}

// fault gives the problems by file and row as one error, nil when there are none. What says first what did not happen
// for them.
func (p *problems) fault(what string) error {
	if p.count == 0 {
		return nil
	}
	slices.SortStableFunc(p.kept, func(a, b problem) int {
		return cmp.Or(cmp.Compare(a.at.order, b.at.order), cmp.Compare(a.at.line, b.at.line))
	})
	message := what + ": 1 problem"
	if p.count > 1 {
		message = fmt.Sprintf("%s: %d problems", what, p.count)
	}
	if rest := p.count - len(p.kept); rest > 0 {
		message += fmt.Sprintf(", of which %d are not listed", rest)
	}
	if p.partial {
		message += "; rows that refer to an unread one are checked once it is mended"
	}
	err := fault.New(fault.Invalid, "%s", message)
	for _, one := range p.kept {
		err = err.With(fault.Field{Where: one.at.String(), Message: one.message})
	}
	return err
}

// notices counts alike notices together, as notice.List does, but finds them by index: a folder may
// raise a million.
type notices struct {
	list  notice.List
	index map[[2]string]int
}

// clone gives the same notices, to add to.
func (n *notices) clone() notices {
	return notices{slices.Clone(n.list), maps.Clone(n.index)}
}

// add keeps a notice, with the row that raised it first.
func (n *notices) add(file string, line int, one notice.Notice) {
	id := [2]string{one.Code, one.Subject}
	if i, ok := n.index[id]; ok {
		n.list[i].Count += one.Count
		return
	}
	if n.index == nil {
		n.index = map[[2]string]int{}
	}
	n.index[id] = len(n.list)
	if line > 0 {
		one.Message += fmt.Sprintf(" (%s row %d)", file, line)
	}
	n.list = append(n.list, one)
}
