// Package sqltext holds every line of SQL of the program: the migrations of each engine and the
// queries that all engines share.
package sqltext

import (
	"embed"
	"io/fs"
)

//go:embed queries/*.sql migrations/*/*.sql
var files embed.FS

// Queries holds the query files. One text serves every engine.
func Queries() fs.FS { return folder("queries") }

// SQLiteMigrations holds the numbered migrations of an SQLite ledger.
func SQLiteMigrations() fs.FS { return folder("migrations/sqlite") }

// PostgresMigrations holds the numbered migrations of a ledger on PostgreSQL.
func PostgresMigrations() fs.FS { return folder("migrations/postgres") }

func folder(name string) fs.FS {
	sub, err := fs.Sub(files, name)
	if err != nil {
		panic(err) // the names above are valid paths
	}
	return sub
}
