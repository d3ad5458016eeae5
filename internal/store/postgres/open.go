// Package postgres opens a PostgreSQL database for the store. It is the only package that knows the
// driver.
package postgres

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"strings"
	"time"

	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"

	"overwinter/internal/fault"
	"overwinter/internal/store/dialect"
	sqltext "overwinter/sql"
)

// Open connects to the database that a URL names. The error is fault.Invalid where the URL, the
// credentials or the database cannot serve, and fault.Unavailable where no server answers.
func Open(ctx context.Context, url string) (*sql.DB, dialect.Dialect, error) {
	config, err := parse(url)
	if err != nil {
		return nil, dialect.Dialect{}, err
	}
	settle(config, url)
	engine := dialect.Dialect{
		Name:       "PostgreSQL",
		CannotOpen: func(err error) error { return cannotOpen(err, config) },
		Classify:   classify,
		Load:       load,
		Lock:       lockWriters,
		Migrations: migrations,
	}
	pool, err := pgxpool.NewWithConfig(ctx, config)
	if err != nil {
		return nil, engine, fault.Wrap(fault.Internal, err, "the PostgreSQL driver cannot be started")
	}
	db := sql.OpenDB(connector{Connector: stdlib.GetPoolConnector(pool), pool: pool})
	db.SetMaxIdleConns(0) // idle connections are the pool's
	if err := usable(ctx, db, config); err != nil {
		_ = db.Close() // the failure to open is what matters
		return nil, engine, cannotOpen(err, config)
	}
	return db, engine, nil
}

// connector closes the pool with the database that was opened on it.
type connector struct {
	driver.Connector
	pool *pgxpool.Pool
}

// Close is called by sql.DB.
func (c connector) Close() error {
	c.pool.Close()
	return nil
}

const (
	// maxConns lets nine instances share a server of a hundred connections, PostgreSQL's default.
	maxConns       = 10
	connectTimeout = 10 * time.Second
)

// sessionSettings hold where the URL does not say otherwise. A writer that died, or hangs, with its
// machine must not keep the others out for long.
var sessionSettings = map[string]string{
	"application_name":                    "overwinter",
	"lock_timeout":                        "30s",
	"idle_in_transaction_session_timeout": "60s",
}

// settle chooses what the URL leaves open.
func settle(config *pgxpool.Config, url string) {
	if !strings.Contains(url, "pool_max_conns=") {
		config.MaxConns = maxConns
	}
	if config.ConnConfig.ConnectTimeout == 0 {
		config.ConnConfig.ConnectTimeout = connectTimeout
	}
	for name, value := range sessionSettings {
		if _, given := config.ConnConfig.RuntimeParams[name]; !given {
			config.ConnConfig.RuntimeParams[name] = value
		}
	}
	// A server that was started anew has closed the connections that lie idle: each is tried before it is
	// used, and a fresh one takes the place of a dead one.
	config.ShouldPing = func(context.Context, pgxpool.ShouldPingParams) bool { return true }
}

// survey is what must be known of a database before tables are made in it.
type survey struct {
	encoding                          string
	schema, writable, ledger, foreign bool
	// Whether the server waits for the disk, and for each commit; and whether its own settings say that what it
	// holds may be lost.
	fsync, commits, disposable bool
}

// look finds out. The tables of a ledger are told by the table in which its migrations are noted.
func look(ctx context.Context, db *sql.DB) (s survey, err error) {
	err = db.QueryRowContext(ctx, `SELECT current_setting('server_encoding'), current_schema() IS NOT NULL,
		coalesce(has_schema_privilege(current_schema(), 'CREATE'), false), to_regclass('goose_db_version') IS NOT NULL,
		EXISTS (SELECT 1 FROM pg_class AS c JOIN pg_namespace AS n ON n.oid = c.relnamespace
			WHERE n.nspname = current_schema() AND c.relkind IN ('r', 'p')),
		current_setting('fsync') = 'on', current_setting('synchronous_commit') <> 'off', coalesce(current_setting('overwinter.disposable', true), '') = 'on'`).
		Scan(&s.encoding, &s.schema, &s.writable, &s.ledger, &s.foreign, &s.fsync, &s.commits, &s.disposable)
	s.foreign = s.foreign && !s.ledger
	return s, err
}

// usable refuses a database that cannot keep a ledger.
func usable(ctx context.Context, db *sql.DB, config *pgxpool.Config) error {
	found, err := look(ctx, db)
	database := config.ConnConfig.Database
	switch {
	case err != nil:
		return err
	case found.encoding != "UTF8":
		return fault.New(fault.Invalid, "the database %q keeps text as %s: make one in UTF8 (createdb -E UTF8 -T template0 NAME)", database, found.encoding)
	case !found.fsync && !found.disposable:
		return fault.New(fault.Invalid, "the server has fsync off, and loses readings or the whole database when its machine fails: set fsync = on in postgresql.conf "+
			"(a server whose data may be lost says so there with overwinter.disposable = on)")
	case !found.commits:
		return fault.New(fault.Invalid, "the database %q has synchronous_commit off, so that readings which were acknowledged may be lost: set it to on, for the server, the database or the user", database)
	case !found.schema:
		return fault.New(fault.Invalid, "the database %q has no schema of those in search_path: make it first", database)
	case !found.writable && !found.ledger:
		return fault.New(fault.Invalid, "the user %q may not make tables in the database %q: make it the owner, or grant it CREATE on the schema", config.ConnConfig.User, database)
	case found.foreign:
		return fault.New(fault.Invalid, "the database %q belongs to another program: give the ledger a database or a schema of its own", database)
	}
	return nil
}

// Exists tells whether there is a ledger at the URL, or a fault that Open will name.
func Exists(ctx context.Context, url string) bool {
	config, err := parse(url)
	if err != nil {
		return true
	}
	settle(config, url)
	db := stdlib.OpenDB(*config.ConnConfig)
	defer func() { _ = db.Close() }() // it was only looked into
	found, err := look(ctx, db)
	return err != nil || found.ledger
}

// migrations lets one instance at a time bring the tables up to date; the others look again each second.
func migrations(db *sql.DB) (*goose.Provider, error) {
	locker, err := lock.NewPostgresSessionLocker(lock.WithLockTimeout(1, 300))
	if err != nil {
		return nil, err
	}
	return goose.NewProvider(goose.DialectPostgres, db, sqltext.PostgresMigrations(), goose.WithSessionLocker(locker))
}
