package pgtest

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const (
	owner    = "overwinter"
	password = "not/for@show" // so that tests see it if it leaks, and that it must be escaped
)

// cluster is a private server in a temporary folder. A shell keeps it: when the pipe to the shell
// closes, because the test is done or the test process has died, the shell stops the server and removes
// the folder.
type cluster struct {
	bin, dir string
	keeper   *exec.Cmd
	pipe     io.Closer
}

// keep is the shell's part. Its arguments are the folder of the programs and that of the cluster.
const keep = `cat >/dev/null; "$1/pg_ctl" -D "$2/data" -m immediate -w stop; rm -rf "$2"`

func start(settings ...string) (*Server, error) {
	bin, err := programs()
	if err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp("", "pgtest")
	if err != nil {
		return nil, err
	}
	c := &cluster{bin: bin, dir: dir}
	if err := c.keep(); err != nil {
		_ = os.RemoveAll(dir)
		return nil, err
	}
	if err := c.begin(settings); err != nil {
		c.end()
		return nil, err
	}
	u := url.URL{Scheme: "postgres", User: url.UserPassword(owner, password), Path: "/postgres", RawQuery: url.Values{"host": {dir}}.Encode()}
	return &Server{cluster: c, url: u.String()}, nil
}

// begin makes the cluster and starts it. The database sorts text as English does, so
// that columns which must sort by bytes show whether they do. It listens on a socket in its folder only.
func (c *cluster) begin(settings []string) error {
	secret := filepath.Join(c.dir, "password")
	if err := os.WriteFile(secret, []byte(password), 0o600); err != nil {
		return err
	}
	if err := give(secret); err != nil {
		return err
	}
	if err := c.run("initdb", "-D", c.data(), "-U", owner, "--pwfile", secret, "-A", "scram-sha-256",
		"-E", "UTF8", "--locale", "C", "--locale-provider", "icu", "--icu-locale", "en", "--no-sync"); err != nil {
		return err
	}
	settings = append(settings, "listen_addresses=''", "unix_socket_directories='"+c.dir+"'", "timezone='America/Anchorage'")
	config, err := os.OpenFile(filepath.Join(c.data(), "postgresql.conf"), os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = config.WriteString("\n" + strings.Join(settings, "\n") + "\n")
	if err := errors.Join(err, config.Close()); err != nil {
		return err
	}
	return c.up()
}

func (c *cluster) keep() (err error) {
	if err := give(c.dir); err != nil {
		return err
	}
	c.keeper = exec.Command("sh", "-c", keep, "sh", c.bin, c.dir)
	c.keeper.SysProcAttr = ordinaryUser()
	if c.pipe, err = c.keeper.StdinPipe(); err != nil {
		return err
	}
	return c.keeper.Start()
}

// end stops the server and waits until its folder is gone.
func (c *cluster) end() {
	_ = c.pipe.Close()
	_ = c.keeper.Wait() // the server may have been stopped already
}

func (c *cluster) data() string { return filepath.Join(c.dir, "data") }

func (c *cluster) up() error {
	return c.run("pg_ctl", "-D", c.data(), "-l", filepath.Join(c.dir, "log"), "-w", "start")
}

// Crash stops the server as a failure would: no connection is warned, nothing is written out.
func (s *Server) Crash(t testing.TB) {
	t.Helper()
	if err := s.run("pg_ctl", "-D", s.data(), "-m", "immediate", "-w", "stop"); err != nil {
		t.Fatal(err)
	}
}

// Restart starts a server that has crashed.
func (s *Server) Restart(t testing.TB) {
	t.Helper()
	if err := s.up(); err != nil {
		t.Fatal(err)
	}
}

// run runs one of PostgreSQL's programs as a user that they accept.
func (c *cluster) run(program string, args ...string) error {
	cmd := exec.Command(filepath.Join(c.bin, program), args...)
	cmd.Dir = c.dir
	cmd.SysProcAttr = ordinaryUser()
	out, err := os.CreateTemp(c.dir, program) // a pipe would stay open in the server that pg_ctl leaves behind
	if err != nil {
		return err
	}
	defer func() { _ = os.Remove(out.Name()) }()
	cmd.Stdout, cmd.Stderr = out, out
	if err := errors.Join(cmd.Run(), out.Close()); err != nil {
		said, _ := os.ReadFile(out.Name())
		return fmt.Errorf("%s: %w\n%s", program, err, bytes.TrimSpace(said))
	}
	return nil
}

// programs finds the folder of PostgreSQL's programs: that of the PATH, or Debian's newest.
func programs() (string, error) {
	if found, err := exec.LookPath("initdb"); err == nil {
		if found, err = filepath.EvalSymlinks(found); err == nil { // the others lie beside the program itself
			return filepath.Dir(found), nil
		}
	}
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/initdb") // the pattern is well formed
	if len(found) == 0 {
		return "", errors.New("initdb is neither on the PATH nor in /usr/lib/postgresql")
	}
	// Releases have two digits since 10.
	return filepath.Dir(slices.Max(found)), nil
}
