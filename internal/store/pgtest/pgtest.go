// Package pgtest gives tests PostgreSQL databases of their own. It starts a private server in a
// temporary folder, once for a test binary, unless OVERWINTER_TEST_POSTGRES_URL names one to use. Where
// there is no PostgreSQL, tests are skipped; with OVERWINTER_TEST_POSTGRES=required they fail.
package pgtest

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

// Careless are settings with which a server does not wait for the disk, and says so. What it has acknowledged
// outlives a crash of the server, though not one of the machine.
var Careless = []string{"fsync=off", "overwinter.disposable=on"}

const (
	serverVariable   = "OVERWINTER_TEST_POSTGRES_URL"
	requiredVariable = "OVERWINTER_TEST_POSTGRES"
)

// shared is the server of the test binary. It ends with the process: see cluster.
var shared = sync.OnceValues(func() (*Server, error) {
	if named := os.Getenv(serverVariable); named != "" {
		return &Server{url: named}, nil
	}
	return start(Careless...)
})

// New makes an empty database and gives its URL. The database is dropped when the test ends.
func New(t testing.TB) string {
	t.Helper()
	return Shared(t).New(t)
}

// Shared gives the server of the test binary.
func Shared(t testing.TB) *Server {
	t.Helper()
	server, err := shared()
	need(t, err)
	return server
}

// Private gives a server that is the tests' own: it may be crashed, and its users are known.
func Private(t testing.TB) *Server {
	t.Helper()
	if server := Shared(t); server.cluster != nil {
		return server
	}
	return Start(t, Careless...)
}

// Start starts a server for one test, with settings of postgresql.conf.
func Start(t testing.TB, settings ...string) *Server {
	t.Helper()
	server, err := start(settings...)
	need(t, err)
	t.Cleanup(server.end)
	return server
}

// need ends a test that has no server.
func need(t testing.TB, err error) {
	t.Helper()
	switch {
	case err == nil:
	case os.Getenv(requiredVariable) == "required":
		t.Fatalf("PostgreSQL is required here: %v", err)
	default:
		t.Skipf("no PostgreSQL for this test: %v; install it (on Debian: postgresql) or name a server in %s", err, serverVariable)
	}
}

// Server is a running PostgreSQL server.
type Server struct {
	*cluster
	url string // of the database from which others are made

	template     sync.Once
	templateName string
}

// databases counts those made, so that each has a name of its own.
var databases atomic.Int64

// New makes an empty database with options of CREATE DATABASE, and gives its URL. The database is
// dropped when the test ends.
func (s *Server) New(t testing.TB, options ...string) string {
	t.Helper()
	if options == nil {
		options = []string{"ENCODING 'UTF8'"}
	}
	return s.make(t, "template0", options...)
}

// Like makes a database with what prepare puts into an empty one. On a server of our own the first is
// kept as the template of all others, so that what is slow to prepare is prepared once.
func (s *Server) Like(t testing.TB, prepare func(url string)) string {
	t.Helper()
	if s.cluster == nil {
		url := s.New(t)
		prepare(url)
		return url
	}
	s.template.Do(func() {
		url := s.New(nowhere{t})
		prepare(url)
		s.templateName = nameOf(url)
	})
	return s.make(t, s.templateName)
}

// nowhere is a test that does not clean up: a template lasts as long as its server.
type nowhere struct{ testing.TB }

func (nowhere) Cleanup(func()) {}

func (s *Server) make(t testing.TB, template string, options ...string) string {
	t.Helper()
	name := fmt.Sprintf("overwinter_test_%d_%d", os.Getpid(), databases.Add(1))
	s.Do(t, s.url, fmt.Sprintf("CREATE DATABASE %s TEMPLATE %s %s", name, template, strings.Join(options, " ")))
	t.Cleanup(func() { s.Do(t, s.url, fmt.Sprintf("DROP DATABASE IF EXISTS %s WITH (FORCE)", name)) })
	return s.Database(name)
}

// Database gives the URL of a database by its name.
func (s *Server) Database(name string) string {
	u, _ := url.Parse(s.url) // it has served to make databases
	u.Path = "/" + name
	return u.String()
}

// Do runs statements on a database, each in a transaction of its own.
func (s *Server) Do(t testing.TB, url string, statements ...string) {
	t.Helper()
	// A test's own context is over when it cleans up.
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	conn, err := pgx.Connect(ctx, url)
	if err != nil {
		t.Fatalf("the test's database cannot be reached: %v", err)
	}
	defer func() { _ = conn.Close(ctx) }()
	for _, statement := range statements {
		if _, err := conn.Exec(ctx, statement); err != nil {
			t.Fatalf("%v in %s", err, statement)
		}
	}
}

func nameOf(given string) string {
	u, _ := url.Parse(given)
	return strings.TrimPrefix(u.Path, "/")
}
