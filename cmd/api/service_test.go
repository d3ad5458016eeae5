package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"overwinter/internal/demo"
	"overwinter/internal/inventory"
	"overwinter/internal/store"
)

// service is the command as it runs in a test.
type service struct {
	t    *testing.T
	url  string
	log  *watched
	stop context.CancelFunc
	code chan int
}

// start runs the command on a free port until the test ends.
func start(t *testing.T, args ...string) *service {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	out, in := io.Pipe()
	s := &service{t: t, log: newWatched(), stop: cancel, code: make(chan int, 1)}
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		s.code <- run(ctx, append(args, "--listen", "127.0.0.1:0", "--log", "json"), in, s.log)
		_ = in.Close()
	}()
	t.Cleanup(func() { cancel(); <-ended })
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatalf("the service did not start: %s", s.log)
	}
	go func() { _, _ = io.Copy(io.Discard, out) }()
	s.url = strings.TrimSuffix(line[strings.Index(line, "http://"):], "/\n")
	return s
}

// advised waits for the first forecast.
func (s *service) advised() { s.log.wait(s.t, `"msg":"forecast"`) }

// get asks for a path and gives status and body.
func (s *service) get(path string) (int, string) {
	s.t.Helper()
	answer, err := http.Get(s.url + path)
	if err != nil {
		s.t.Fatal(err)
	}
	return read(s.t, answer)
}

func read(t *testing.T, answer *http.Response) (int, string) {
	t.Helper()
	defer func() { _ = answer.Body.Close() }()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer.StatusCode, string(body)
}

// decode asks the API for a path and reads its answer.
func (s *service) decode(path string, into any) {
	s.t.Helper()
	status, body := s.get(path)
	if status != http.StatusOK {
		s.t.Fatalf("%s: %d %s", path, status, body)
	}
	if err := json.Unmarshal([]byte(body), into); err != nil {
		s.t.Fatalf("%s: %v", path, err)
	}
}

// report makes a report's request.
func (s *service) report(path, key string, body io.Reader) *http.Request {
	s.t.Helper()
	r, err := http.NewRequestWithContext(s.t.Context(), http.MethodPost, s.url+path, body)
	if err != nil {
		s.t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Idempotency-Key", key)
	return r
}

func send(t *testing.T, r *http.Request) (int, string) {
	t.Helper()
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	return read(t, answer)
}

// plant is the one plant of the tests' ledgers.
const plant = "cape-orrin"

// rows are those of the demo for one plant, so that forecasts take little time.
var rows = sync.OnceValue(func() inventory.Rows {
	var kept inventory.Rows
	routes := map[string]bool{}
	all := demo.Generate(demo.DefaultSeed).Rows
	for _, s := range all.Services {
		routes[s.Route] = routes[s.Route] || s.Plant == plant
	}
	for r := range all.All() {
		switch r := r.(type) {
		case *inventory.Route:
			if routes[r.ID] {
				kept.Add(r)
			}
		case *inventory.Window:
			if routes[r.Route] {
				kept.Add(r)
			}
		default:
			if r.PlantID() == plant {
				kept.Add(r)
			}
		}
	}
	return kept
})

// newLedger makes a ledger file that holds the plant.
func newLedger(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "ledger.db")
	load(t, path)
	return path
}

func load(t *testing.T, url string) {
	t.Helper()
	db, err := store.Open(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	if _, err := db.Record(t.Context(), rows(), demo.Now); err != nil {
		t.Fatal(err)
	}
}

// watched is a log whose lines a test can wait for.
type watched struct {
	mu    sync.Mutex
	news  chan struct{} // closed when something is written
	whole bytes.Buffer
}

func newWatched() *watched { return &watched{news: make(chan struct{})} }

func (w *watched) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	close(w.news)
	w.news = make(chan struct{})
	return w.whole.Write(p)
}

func (w *watched) String() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.whole.String()
}

func (w *watched) state() (string, chan struct{}) {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.whole.String(), w.news
}

// wait waits until the log holds a text.
func (w *watched) wait(t *testing.T, text string) {
	t.Helper()
	for {
		whole, news := w.state()
		if strings.Contains(whole, text) {
			return
		}
		select {
		case <-news:
		case <-t.Context().Done():
			t.Fatalf("the log never said %s:\n%s", text, whole)
		}
	}
}
