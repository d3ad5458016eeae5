package store

import (
	"bufio"
	"fmt"
	"io/fs"
	"slices"
	"strconv"
	"strings"

	"overwinter/internal/fault"
	"overwinter/internal/inventory"
)

// statements is the text of every statement that the store runs.
type statements struct {
	kinds          map[inventory.Kind]kindStatements
	insertPoint    string
	points         string
	insertAdvice   string
	moveCurrent    string
	adviceOfPlant  string
	currentAdvice  string
	adviceInForce  string
	adviceRevision string
	countsIn       string
	insertForecast string
	forecasts      string
	insertReport   string
	reportDigest   string
	lastVersion    string
	versionByTime  string
	version        string
	insertVersion  string
	rowsWritten    string
	noteChange     string
	changes        string
	ordersWritten  string

	degreeDaysTwice, degreeDaysOfOtherBase string
}

// kindStatements are the ledger's queries filled in for one kind of row.
type kindStatements struct {
	insert, digest, row, replacement string
	lost, stray, rings               string // new rows that may not replace what they name
	shared                           string // rows that share an identity, "" for kinds that have none
	inForce                          string // rows in force, in the order that the contract promises
}

// loadStatements reads the query files and picks what the store needs. The names that it did not
// need are given too.
func loadStatements(files fs.FS) (statements, []string, error) {
	blocks, err := parseBlocks(files)
	if err != nil {
		return statements{}, nil, err
	}
	pick := picker{blocks: blocks, used: map[string]bool{}}
	s := statements{
		kinds:          map[inventory.Kind]kindStatements{},
		insertPoint:    pick.text("InsertCapacityPoint"),
		points:         pick.text("CapacityPoints"),
		insertAdvice:   pick.text("InsertAdvice"),
		moveCurrent:    pick.text("MoveCurrentAdvice"),
		adviceOfPlant:  pick.text("AdviceOfPlant"),
		currentAdvice:  pick.text("CurrentAdvice"),
		adviceInForce:  pick.text("AdviceInForce"),
		adviceRevision: pick.text("AdviceRevision"),
		countsIn:       pick.text("CountsIn"),
		insertForecast: pick.text("InsertForecast"),
		forecasts:      pick.text("ForecastsOfPlant"),
		insertReport:   pick.text("InsertReport"),
		reportDigest:   pick.text("ReportDigest"),
		lastVersion:    pick.text("LastVersion"),
		versionByTime:  pick.text("VersionByTime"),
		version:        pick.text("VersionByNumber"),
		insertVersion:  pick.text("InsertVersion"),
		noteChange:     pick.text("NoteChange"),
		changes:        pick.text("Changes"),

		degreeDaysTwice:       pick.text("DegreeDaysTwice"),
		degreeDaysOfOtherBase: pick.text("DegreeDaysOfOtherBase"),
	}
	var written []string
	for _, t := range tables {
		s.kinds[t.kind] = pick.forTable(t)
		written = append(written, filled(t).Replace(pick.text("RowsWritten")))
	}
	s.ordersWritten = filled(tableOf(inventory.KindOrder)).Replace(pick.text("OrdersWritten"))
	s.rowsWritten = strings.Join(written, "\nUNION ALL\n") + "\nORDER BY position\nLIMIT $2"
	if pick.missing != nil {
		return statements{}, nil, fault.New(fault.Internal, "queries are missing: %s", strings.Join(pick.missing, ", "))
	}
	return s, pick.unused(), nil
}

type picker struct {
	blocks  map[string]string
	used    map[string]bool
	missing []string
}

func (p *picker) text(name string) string {
	text, ok := p.blocks[name]
	if !ok && !slices.Contains(p.missing, name) {
		p.missing = append(p.missing, name)
	}
	p.used[name] = true
	return text
}

func (p *picker) unused() []string {
	var names []string
	for name := range p.blocks {
		if !p.used[name] {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// filled puts what is the table's own into a text.
func filled(t table) *strings.Replacer {
	columns := t.columnNames()
	var values []string
	for i := range len(columns) + len(writtenOnly) {
		values = append(values, "$"+strconv.Itoa(i+1))
	}
	return strings.NewReplacer(
		"{table}", t.name,
		"{columns}", strings.Join(columns, ", "),
		"{values}", strings.Join(values, ", "),
		"{identity}", strings.Join(t.identity, ", "),
		"{kind}", string(t.kind),
		"{plant}", t.plantColumn("r."),
		"{other plant}", t.plantColumn("o."),
	)
}

func (p *picker) forTable(t table) kindStatements {
	fill := filled(t)
	s := kindStatements{
		insert:      fill.Replace(p.text("InsertRow")),
		digest:      fill.Replace(p.text("StoredDigest")),
		row:         fill.Replace(p.text("StoredRow")),
		replacement: fill.Replace(p.text("Replacement")),
		lost:        fill.Replace(p.text("LostCorrections")),
		stray:       fill.Replace(p.text("StrayCorrections")),
		rings:       fill.Replace(p.text("RingsOfCorrections")),
		inForce:     fill.Replace(p.text(t.query)),
	}
	if t.identity != nil {
		s.shared = fill.Replace(p.text("SharedIdentities"))
	}
	return s
}

// parseBlocks reads the blocks of all query files by name. A block begins with a line "-- name: X";
// comment lines in it are left out.
func parseBlocks(files fs.FS) (map[string]string, error) {
	names, err := fs.Glob(files, "*.sql")
	if err != nil {
		return nil, fault.Wrap(fault.Internal, err, "the query files cannot be listed")
	}
	blocks := map[string]string{}
	for _, file := range names {
		if err := parseFile(files, file, blocks); err != nil {
			return nil, fault.Wrap(fault.Internal, err, "the query file %s cannot be read", file)
		}
	}
	for name, text := range blocks {
		// The SQLite driver takes anything after the semicolon, even a line break, for a second statement,
		// and then translates the text anew at every execution instead of keeping it prepared.
		blocks[name] = strings.TrimSuffix(strings.TrimSpace(text), ";")
	}
	return blocks, nil
}

func parseFile(files fs.FS, file string, blocks map[string]string) error {
	f, err := files.Open(file)
	if err != nil {
		return err
	}
	defer func() { _ = f.Close() }() // it was only read
	name := ""
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		line := lines.Text()
		if found, ok := strings.CutPrefix(line, "-- name: "); ok {
			if _, twice := blocks[found]; twice {
				return fmt.Errorf("the name %s is used twice", found)
			}
			name, blocks[found] = found, ""
			continue
		}
		if strings.HasPrefix(line, "--") || strings.TrimSpace(line) == "" {
			continue
		}
		if name == "" {
			return fmt.Errorf("a statement without a name: %s", line)
		}
		blocks[name] += line + "\n"
	}
	return lines.Err()
}
