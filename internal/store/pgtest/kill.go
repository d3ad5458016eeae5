package pgtest

import (
	"context"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

// Kill ends every process of the server at once, without a word to any, as a lack of memory would.
func (s *Server) Kill(t testing.TB) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	conn, err := pgx.Connect(ctx, s.url)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = conn.Close(ctx) }() // its other end is killed
	found, err := conn.Query(ctx, `SELECT pid FROM pg_stat_activity`)
	if err != nil {
		t.Fatal(err)
	}
	children, err := pgx.CollectRows(found, pgx.RowTo[int])
	if err != nil {
		t.Fatal(err)
	}
	noted, err := os.ReadFile(filepath.Join(s.data(), "postmaster.pid"))
	if err != nil {
		t.Fatal(err)
	}
	first, _, _ := strings.Cut(string(noted), "\n")
	parent, err := strconv.Atoi(first)
	if err != nil {
		t.Fatal(err)
	}
	for _, pid := range append([]int{parent}, children...) {
		if p, err := os.FindProcess(pid); err == nil {
			_ = p.Kill() // one may have ended by itself meanwhile
		}
	}
}

// Revive starts a server that was killed. What is left of it may hold its memory for a moment.
func (s *Server) Revive(t testing.TB) {
	t.Helper()
	err := s.up()
	for deadline := time.Now().Add(time.Minute); err != nil && time.Now().Before(deadline); err = s.up() {
		time.Sleep(20 * time.Millisecond)
	}
	if err != nil {
		t.Fatal(err)
	}
}
