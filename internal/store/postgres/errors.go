package postgres

import (
	"context"
	"crypto/tls"
	"database/sql"
	"database/sql/driver"
	"errors"
	"io"
	"net"
	"strings"

	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/pgxpool"

	"overwinter/internal/fault"
)

// The codes that are told apart (https://www.postgresql.org/docs/15/errcodes-appendix.html).
const (
	uniqueViolation      = "23505"
	lockNotAvailable     = "55P03"
	idleInTransaction    = "25P03"
	readOnly             = "25006"
	noSuchDatabase       = "3D000"
	insufficientRights   = "42501"
	featureNotSupported  = "0A000"
	classAuthorization   = "28"
	undefinedObject      = "42704"
	invalidParameter     = "22023"
	cannotChangeNow      = "55P02"
	revalidateCachedPlan = "RevalidateCachedQuery" // the routine that finds a prepared statement out of date
)

// passing are the classes of failures that go by: connection lost, transaction rolled back in favour of
// another, resources short, an operator's intervention, failure of the system. Refused credentials and a
// missing database are for a person to mend, and once mended the same call succeeds.
var passing = []string{"08", "40", "53", "57", "58", classAuthorization, noSuchDatabase[:2]}

func classify(err error) fault.Kind {
	if e, ok := answered(err); ok {
		return kindOf(e)
	}
	if lost(err) {
		return fault.Unavailable
	}
	return fault.Internal
}

func answered(err error) (*pgconn.PgError, bool) {
	var e *pgconn.PgError
	return e, errors.As(err, &e)
}

func kindOf(e *pgconn.PgError) fault.Kind {
	switch e.Code {
	case uniqueViolation:
		return fault.Conflict
	case lockNotAvailable, idleInTransaction, readOnly:
		return fault.Unavailable
	case featureNotSupported:
		if e.Routine == revalidateCachedPlan { // the tables have changed; the statement is prepared anew next time
			return fault.Unavailable
		}
	}
	for _, class := range passing {
		if strings.HasPrefix(e.Code, class) {
			return fault.Unavailable
		}
	}
	return fault.Internal
}

// lost tells whether an error means that the server was not reached or went away.
func lost(err error) bool {
	var network net.Error
	var connecting *pgconn.ConnectError
	if errors.As(err, &network) || errors.As(err, &connecting) || pgconn.Timeout(err) || pgconn.SafeToRetry(err) {
		return true
	}
	for _, known := range []error{
		driver.ErrBadConn, sql.ErrConnDone, pgconn.ErrConnClosed, net.ErrClosed, io.EOF, io.ErrUnexpectedEOF,
		context.Canceled, context.DeadlineExceeded,
	} {
		if errors.Is(err, known) {
			return true
		}
	}
	return false
}

// cannotOpen says why a database cannot be used, and what to do. A fault about anything else stays as it is.
func cannotOpen(err error, config *pgxpool.Config) error {
	c, where := config.ConnConfig, shown(config)
	if e, ok := answered(err); ok {
		switch {
		case strings.HasPrefix(e.Code, classAuthorization):
			return fault.Wrap(fault.Invalid, err, "%s: the server does not let the user %q in: check the user, the password and the server's pg_hba.conf", where, c.User)
		case e.Code == noSuchDatabase:
			return fault.Wrap(fault.Invalid, err, "%s: there is no database %q: make it first (createdb -E UTF8 -T template0 %s)", where, c.Database, c.Database)
		case e.Code == insufficientRights:
			return fault.Wrap(fault.Invalid, err, "%s: the user %q lacks rights: make it the owner of the database, or grant it CREATE on the schema", where, c.User)
		case e.Code == undefinedObject, e.Code == invalidParameter, e.Code == cannotChangeNow:
			return fault.Wrap(fault.Invalid, err, "%s: the server refuses an option of the URL", where)
		}
	}
	if known := (*fault.Error)(nil); errors.As(err, &known) {
		return err
	}
	if refusedTLS(err) {
		return fault.Wrap(fault.Invalid, err, "%s: the server cannot be reached over TLS as the URL asks: check sslmode and sslrootcert", where)
	}
	if classify(err) == fault.Unavailable {
		return fault.Wrap(fault.Unavailable, err, "%s: no PostgreSQL server answers there, or it is busy: check the address, and that the server runs", where)
	}
	return fault.Wrap(fault.Internal, err, "%s cannot be opened", where)
}

func refusedTLS(err error) bool {
	var certificate *tls.CertificateVerificationError
	var record tls.RecordHeaderError
	return errors.As(err, &certificate) || errors.As(err, &record) ||
		strings.Contains(err.Error(), "server refused TLS connection") // the driver gives it no type
}
