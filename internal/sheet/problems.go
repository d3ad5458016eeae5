package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"overwinter/internal/fault"
)

// listed is how many problems are named one by one: files with more have a common cause.
const listed = 100

// problem is one place where a file is wrong. Without a line it is the file as a whole, without a column the row.
type problem struct {
	order   int // of the file
	file    string
	line    int
	column  string
	message string
}

func (p problem) where() string {
	text := p.file
	if p.line > 0 {
		text += ":" + strconv.Itoa(p.line)
	}
	if p.column != "" {
		text += ":" + p.column
	}
	return text
}

// Problems keeps the first problems and counts the rest.
type Problems struct {
	files int
	kept  []problem
	count int
}

func (p *Problems) add(one problem) {
	p.count++
	if len(p.kept) < listed {
		p.kept = append(p.kept, one)
	}
}

// Err gives the problems by file and row as one error, nil when there are none.
func (p *Problems) Err() error {
	if p.count == 0 {
		return nil
	}
	slices.SortStableFunc(p.kept, func(a, b problem) int {
		return cmp.Or(cmp.Compare(a.order, b.order), cmp.Compare(a.line, b.line))
	})
	message := "nothing was written: 1 problem"
	if p.count > 1 {
		message = fmt.Sprintf("nothing was written: %d problems", p.count)
	}
	if rest := p.count - len(p.kept); rest > 0 {
		message += fmt.Sprintf(", of which %d are not listed", rest)
	}
	err := fault.New(fault.Invalid, "%s", message)
	for _, one := range p.kept {
		err = err.With(fault.Field{Where: one.where(), Message: one.message})
	}
	return err
}
