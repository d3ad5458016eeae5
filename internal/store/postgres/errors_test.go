package postgres

import (
	"context"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"net"
	"testing"

	"github.com/jackc/pgx/v5/pgconn"

	"overwinter/internal/fault"
)

// The codes are those of https://www.postgresql.org/docs/15/errcodes-appendix.html.
func TestErrorsAreToldApart(t *testing.T) {
	answer := func(code string) error { return fmt.Errorf("copy: %w", &pgconn.PgError{Code: code}) }
	for _, c := range []struct {
		name string
		err  error
		want fault.Kind
	}{
		{"unique_violation", answer("23505"), fault.Conflict},
		{"foreign_key_violation", answer("23503"), fault.Internal},
		{"connection_failure", answer("08006"), fault.Unavailable},
		{"serialization_failure", answer("40001"), fault.Unavailable},
		{"deadlock_detected", answer("40P01"), fault.Unavailable},
		{"disk_full", answer("53100"), fault.Unavailable},
		{"too_many_connections", answer("53300"), fault.Unavailable},
		{"lock_not_available", answer("55P03"), fault.Unavailable},
		{"query_canceled", answer("57014"), fault.Unavailable},
		{"admin_shutdown", answer("57P01"), fault.Unavailable},
		{"crash_shutdown", answer("57P02"), fault.Unavailable},
		{"cannot_connect_now", answer("57P03"), fault.Unavailable},
		{"io_error", answer("58030"), fault.Unavailable},
		{"read_only_sql_transaction", answer("25006"), fault.Unavailable},
		{"idle_in_transaction_session_timeout", answer("25P03"), fault.Unavailable},
		{"invalid_password, changed while we run", answer("28P01"), fault.Unavailable},
		{"syntax_error", answer("42601"), fault.Internal},
		{"undefined_table", answer("42P01"), fault.Internal},
		{"a statement prepared before the tables changed", &pgconn.PgError{Code: "0A000", Routine: "RevalidateCachedQuery"}, fault.Unavailable},
		{"feature_not_supported", answer("0A000"), fault.Internal},
		{"no answer", &pgconn.ConnectError{}, fault.Unavailable},
		{"a broken connection", &net.OpError{Op: "read", Err: errors.New("connection reset by peer")}, fault.Unavailable},
		{"a connection that ends", fmt.Errorf("receive: %w", io.ErrUnexpectedEOF), fault.Unavailable},
		{"a connection that was closed", pgconn.ErrConnClosed, fault.Unavailable},
		{"a connection that is bad", driver.ErrBadConn, fault.Unavailable},
		{"a deadline", context.DeadlineExceeded, fault.Unavailable},
		{"anything else", errors.New("no"), fault.Internal},
	} {
		if got := classify(c.err); got != c.want {
			t.Errorf("%s is %v, want %v", c.name, got, c.want)
		}
	}
}
