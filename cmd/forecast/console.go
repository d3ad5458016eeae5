package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"time"

	"github.com/mattn/go-isatty"

	"overwinter/internal/notice"
)

// console is where a command writes: answers to out, everything else to err.
type console struct {
	out, err io.Writer
}

// json writes a machine's answer.
func (c *console) json(v any) error {
	e := json.NewEncoder(c.out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// progress gives a callback that counts plants on a terminal once the work has taken a second, and one
// that wipes the line; elsewhere both do nothing.
func (c *console) progress() (tell func(done, of int), wipe func()) {
	f, ok := c.err.(*os.File)
	if !ok || !isatty.IsTerminal(f.Fd()) {
		return nil, func() {}
	}
	begun := time.Now()
	tell = func(done, of int) {
		if time.Since(begun) > time.Second {
			fmt.Fprintf(c.err, "\r%d of %d plants", done, of)
		}
	}
	return tell, func() { fmt.Fprint(c.err, "\r\x1b[K") }
}

// notices lists what is doubtful about an answer.
func (c *console) notices(w io.Writer, indent string, notes notice.List) {
	for _, n := range notes {
		times := ""
		if n.Count > 1 {
			times = fmt.Sprintf(" (%d times)", n.Count)
		}
		subject := ""
		if n.Subject != "" {
			subject = n.Subject + ": "
		}
		fmt.Fprintf(w, "%s%s: %s%s%s\n", indent, n.Severity, subject, n.Message, times)
	}
}
