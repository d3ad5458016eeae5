// Package strap reads the description of a tank, a JSON object that names its shape and measures, and
// makes the shape of it. docs/tank-description.md is the description's own description. The
// geometry itself is that of package tanks.
package strap

import (
	"io"

	"overwinter/internal/notice"
	"overwinter/internal/strict"
	"overwinter/internal/tanks"
)

// Tank is a tank as described.
type Tank struct {
	Shape tanks.Shape
	// Drums is set when the tank is a stock of drums, which are counted and have no depth.
	Drums *tanks.Drums
	// Notices say what is doubtful about the description: it can be used nevertheless.
	Notices notice.List
}

// reader reads one description.
type reader struct {
	*strict.Reader
	notices notice.List
}

// Read reads a description; name is that of the file, for messages. An error lists each place that is
// wrong as file:line:path, with what was found and what was expected; the path counts places in lists from 1.
// Nothing is guessed: a field that the shape does not have, or that stands twice or in two units, is refused.
func Read(name string, in io.Reader) (Tank, error) {
	r := &reader{Reader: strict.New(name, "tank description")}
	root, err := r.Parse(in)
	if err != nil {
		return Tank{}, err
	}
	var t Tank
	if root != nil {
		t.Shape = r.tank(root, 0)
	}
	if err := r.Err(); err != nil {
		return Tank{}, err
	}
	if drums, ok := t.Shape.(tanks.Drums); ok {
		t.Drums = &drums
	}
	t.Notices = r.notices
	return t, nil
}
