//go:build unix

package main

import (
	"bufio"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// child is the command as a process of its own, which signals reach.
type child struct {
	*exec.Cmd
	address string
	log     *watched
}

func startChild(t *testing.T) child {
	t.Helper()
	c := child{Cmd: exec.CommandContext(t.Context(), os.Args[0], "--db", filepath.Join(t.TempDir(), "new.db"), "--listen", "127.0.0.1:0"), log: newWatched()}
	c.Env, c.Stderr = append(os.Environ(), asCommand+"=1"), c.log
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatalf("the service did not start: %s", c.log)
	}
	_, c.address, _ = strings.Cut(strings.TrimSuffix(line, "/\n"), "//")
	return c
}

func (c child) signal(t *testing.T, s syscall.Signal) {
	t.Helper()
	if err := c.Process.Signal(s); err != nil {
		t.Fatal(err)
	}
}

func TestASignalStopsTheServiceInOrder(t *testing.T) {
	for _, s := range []syscall.Signal{syscall.SIGTERM, syscall.SIGINT} {
		c := startChild(t)
		c.signal(t, s)
		if err := c.Wait(); err != nil || !strings.Contains(c.log.String(), "stopped") {
			t.Errorf("%v: %v\n%s", s, err, c.log)
		}
	}
}

func TestASecondSignalStopsTheServiceAtOnce(t *testing.T) {
	c := startChild(t)
	conn, err := net.Dial("tcp", c.address)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = conn.Close() }()
	// A request that the service begins to read and that never ends.
	fmt.Fprintf(conn, "POST /api/v1/plants/%s/rounds HTTP/1.1\r\nHost: %s\r\nContent-Type: application/json\r\nIdempotency-Key: 1\r\n"+
		"Content-Length: 100\r\nExpect: 100-continue\r\n\r\n", plant, c.address)
	if line, err := bufio.NewReader(conn).ReadString('\n'); err != nil || !strings.Contains(line, "100") {
		t.Fatalf("%q, %v", line, err)
	}
	c.signal(t, syscall.SIGTERM)
	c.log.wait(t, "stopping")
	c.signal(t, syscall.SIGTERM)
	_ = c.Wait() // its state says how it ended
	if status := c.ProcessState.Sys().(syscall.WaitStatus); !status.Signaled() || status.Signal() != syscall.SIGTERM {
		t.Errorf("it ended with %v:\n%s", c.ProcessState, c.log)
	}
}
