package sqlite

import (
	"errors"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"overwinter/internal/fault"
)

// primary strips the detail from a result code: the low byte says what sort of failure it is
// (https://www.sqlite.org/rescode.html).
const primary = 0xff

func classify(err error) fault.Kind {
	code := codeOf(err)
	switch code {
	case sqlite3.SQLITE_CONSTRAINT_UNIQUE, sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY:
		return fault.Conflict
	}
	switch code & primary {
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED, sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR,
		sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY, sqlite3.SQLITE_INTERRUPT:
		return fault.Unavailable
	}
	return fault.Internal
}

func codeOf(err error) int {
	var e *sqlite.Error
	if errors.As(err, &e) {
		return e.Code()
	}
	return sqlite3.SQLITE_OK
}

func busy(err error) bool { return codeOf(err)&primary == sqlite3.SQLITE_BUSY }

// cannotOpen says why a file cannot be used, and what to do. A fault about anything else stays as it is.
func cannotOpen(err error, path string) error {
	if errors.Is(err, errForeign) {
		return fault.Wrap(fault.Invalid, err, "%s belongs to another program: name another file for the ledger", path)
	}
	switch codeOf(err) & primary {
	case sqlite3.SQLITE_NOTADB:
		return fault.Wrap(fault.Invalid, err, "%s is not a ledger: name another file, or bring this one back from a backup", path)
	case sqlite3.SQLITE_CORRUPT:
		return fault.Wrap(fault.Invalid, err, "%s is damaged: bring it back from a backup", path)
	case sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM:
		return fault.Wrap(fault.Invalid, err, "%s cannot be opened for writing: check who may write there", path)
	}
	if known := (*fault.Error)(nil); errors.As(err, &known) {
		return err
	}
	return fault.Wrap(classify(err), err, "%s cannot be opened", path)
}
