// Package arrows holds the direction of imports: data goes one way through the rooms, and a library
// stays in the rooms that it was brought in for.
package arrows

import (
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// rooms says, for each room, which rooms of the project it may import. A room that is not listed fails
// the test: a new room is added here on purpose.
var rooms = map[string][]string{
	"internal/units":     {},
	"internal/calendar":  {},
	"internal/fault":     {},
	"internal/notice":    {},
	"internal/tanks":     leaves,
	"internal/strict":    leaves,
	"internal/strap":     with(leaves, "internal/strict", "internal/tanks"),
	"internal/inventory": with(leaves, "internal/tanks"),
	"internal/importer":  with(leaves, "internal/tanks", "internal/inventory"),
	"internal/forecast":  leaves,
	"internal/sheet":     leaves,
	"internal/backtest":  with(leaves, "internal/forecast", "internal/sheet"),
	"internal/replay":    with(leaves, "internal/forecast", "internal/backtest", "internal/resupply", "internal/sheet", "internal/strict"),
	"internal/resupply":  with(leaves, "internal/forecast", "internal/lots"),
	"internal/lots":      with(leaves, "internal/strict"),
	"internal/score":     with(leaves, "internal/forecast"),
	"internal/budget":    with(leaves, "internal/forecast", "internal/resupply"),
	"internal/advice":    with(leaves, "internal/inventory", "internal/forecast", "internal/resupply", "internal/budget", "internal/score"),
	"internal/intake":    with(leaves, "internal/tanks", "internal/inventory", "internal/advice"),
	"internal/chart":     leaves,
	"internal/api":       with(leaves, "internal/inventory", "internal/resupply", "internal/budget", "internal/advice", "internal/intake", "internal/score"),
	"internal/web": with(leaves, "internal/inventory", "internal/resupply", "internal/budget", "internal/advice", "internal/intake",
		"internal/chart", "internal/score", "internal/tanks"),
	"internal/gate": leaves,
	"internal/jobs": with(leaves, "internal/inventory", "internal/advice"),
	"internal/demo": with(leaves, "internal/tanks", "internal/inventory", "internal/importer"),
	"sql":           {},

	"internal/store": with(leaves, "internal/inventory", "internal/tanks", "internal/store/dialect",
		"internal/store/sqlite", "internal/store/postgres", "sql"),
	"internal/store/dialect":   with(leaves, "internal/inventory"),
	"internal/store/sqlite":    with(leaves, "internal/inventory", "internal/store/dialect", "sql"),
	"internal/store/postgres":  with(leaves, "internal/inventory", "internal/store/dialect", "sql"),
	"internal/store/pgtest":    {},
	"internal/store/storetest": with(leaves, "internal/inventory", "internal/tanks"),

	"internal/inventory/bookstest": with(leaves, "internal/inventory"),

	"internal/arrows":   {},
	"internal/scenario": {}, // tests only
	"cmd/api": with(leaves, "internal/advice", "internal/api", "internal/budget", "internal/demo", "internal/gate", "internal/intake",
		"internal/inventory", "internal/jobs", "internal/store", "internal/web"),
	"cmd/forecast": with(leaves, "internal/advice", "internal/backtest", "internal/budget", "internal/demo", "internal/importer",
		"internal/inventory", "internal/lots", "internal/replay", "internal/resupply", "internal/score", "internal/sheet", "internal/store", "internal/strap", "internal/tanks"),
}

var leaves = []string{"internal/units", "internal/calendar", "internal/fault", "internal/notice"}

func with(base []string, more ...string) []string { return append(slices.Clone(base), more...) }

// libraries says which rooms alone may import a library.
var libraries = map[string][]string{
	"modernc.org/sqlite":         {"internal/store/sqlite"},
	"github.com/jackc/pgx":       {"internal/store/postgres", "internal/store/pgtest"},
	"gonum.org/v1/gonum":         {"internal/tanks", "internal/inventory", "internal/forecast", "internal/resupply"},
	"github.com/pressly/goose":   {"internal/store", "internal/store/dialect", "internal/store/sqlite", "internal/store/postgres"},
	"github.com/labstack/echo":   {"internal/api", "internal/web", "internal/gate", "cmd/api"},
	"github.com/danielgtaylor":   {"internal/api"},
	"github.com/robfig/cron":     {"internal/jobs"},
	"github.com/chromedp":        {}, // tests only
	"github.com/alecthomas/kong": {"cmd/forecast", "cmd/api"},
}

type pkg struct {
	ImportPath string
	Dir        string
	GoFiles    []string
	Imports    []string
}

// packages lists every room. It looks at each file itself, too: Go runs a test anew when a file has changed that
// the test looked at, and does not see what a command did.
func packages(t *testing.T) []pkg {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Dir,GoFiles,Imports", "overwinter/...")
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var all []pkg
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p pkg
		if err := d.Decode(&p); err == io.EOF {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		for _, name := range p.GoFiles {
			if _, err := os.ReadFile(filepath.Join(p.Dir, name)); err != nil {
				t.Fatal(err)
			}
		}
		all = append(all, p)
	}
}

func TestDataFlowsOneWayThroughTheRooms(t *testing.T) {
	for _, p := range packages(t) {
		room := strings.TrimPrefix(p.ImportPath, "overwinter/")
		allowed, known := rooms[room]
		if !known {
			t.Errorf("%s is a new room: say in this test what it may import", room)
			continue
		}
		for _, i := range p.Imports {
			if of, ours := strings.CutPrefix(i, "overwinter/"); ours && !slices.Contains(allowed, of) {
				t.Errorf("%s may not import %s", room, of)
			}
		}
	}
}

func TestLibrariesStayInTheRoomsTheyWereBroughtInFor(t *testing.T) {
	for _, p := range packages(t) {
		room := strings.TrimPrefix(p.ImportPath, "overwinter/")
		for _, i := range p.Imports {
			for library, only := range libraries {
				if strings.HasPrefix(i, library) && !slices.Contains(only, room) {
					t.Errorf("%s may not import %s: only %s may", room, i, strings.Join(only, ", "))
				}
			}
		}
	}
}
