package main

import (
	"bufio"
	"crypto/rand"
	"errors"
	"os"
	"strings"

	"overwinter/internal/fault"
)

// draftFile is a file that takes its name only when it is whole: who reads the name sees the old file or the new one.
type draftFile struct {
	*bufio.Writer
	file *os.File
	path string // that it is for
	kept bool
}

// draft begins a file beside the one it is for.
func draft(path string) (*draftFile, error) {
	path = resolved(path)
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return nil, fault.New(fault.Invalid, "%s is no plain file: name one to write to", path)
	}
	file, err := os.OpenFile(path+"."+strings.ToLower(rand.Text()[:8])+".part", os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, os.ErrNotExist) {
		return nil, fault.New(fault.NotFound, "there is no folder for %s: make it first", path)
	}
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "%s cannot be written", path)
	}
	return &draftFile{Writer: bufio.NewWriterSize(file, flushAt), file: file, path: path}, nil
}

// keep gives drafts their names, once all of them are on the disk.
func keep(drafts ...*draftFile) error {
	for _, d := range drafts {
		if err := errors.Join(d.Flush(), d.file.Sync(), d.file.Close()); err != nil {
			return fault.Wrap(fault.Internal, err, "%s cannot be written", d.path)
		}
	}
	for _, d := range drafts {
		if err := os.Rename(d.file.Name(), d.path); err != nil {
			return fault.Wrap(fault.Internal, err, "%s cannot be written", d.path)
		}
		d.kept = true
	}
	return nil
}

// discard takes a draft away that was not kept.
func (d *draftFile) discard() {
	if !d.kept {
		_ = d.file.Close()
		_ = os.Remove(d.file.Name())
	}
}
