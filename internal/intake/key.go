package intake

import (
	"fmt"
	"strings"
)

// longestKey leaves room in a row's key for the ids of a plant and of a meter or tank.
const longestKey = 100

// checkKey says what is wrong with a sender's key, nothing if it can be used.
func checkKey(key string) string {
	switch {
	case key == "":
		return "blank: a report needs a key of its own, such as a UUID, so that sending it twice writes it once"
	case len(key) > longestKey:
		return fmt.Sprintf("%d characters: expected at most %d", len(key), longestKey)
	case strings.ContainsFunc(key, foreign):
		return "holds a character that a key may not have: use letters from A to Z, digits and - _ . : only"
	}
	return ""
}

func foreign(r rune) bool {
	switch {
	case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', strings.ContainsRune("-_.:", r):
		return false
	}
	return true
}

// rowKey makes the key of a ledger row: what kind of report it came by, the plant, and what tells it from
// the report's other rows. A sender's key is unique among the reports of one kind of one plant.
func rowKey(report, plant string, parts ...string) string {
	var b strings.Builder
	b.WriteString(report)
	for _, p := range append([]string{plant}, parts...) {
		b.WriteString("/")
		b.WriteString(withoutSlash.Replace(p))
	}
	return b.String()
}

// withoutSlash keeps ids that hold the separator from running into each other.
var withoutSlash = strings.NewReplacer("/", "%2F", "%", "%25")
