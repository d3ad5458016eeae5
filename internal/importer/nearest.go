package importer

import "strings"

// suggest names the nearest of the known names, or all of them.
func suggest(name string, known []string) string {
	if near := nearest(name, known); near != "" {
		return "did you mean " + near + "?"
	}
	return "expected one of " + strings.Join(known, ", ")
}

// nearest finds the known name that differs from a name by case, by hyphens for underscores, or by at
// most two letters and one in four; "" when there is none.
func nearest(name string, known []string) string {
	const longest = 40 // no known name is longer
	name = strings.ReplaceAll(strings.ToLower(name), "-", "_")
	name = strings.ReplaceAll(name, " ", "_")
	if len(name) > longest {
		return ""
	}
	best, least := "", 3
	for _, k := range known {
		if d := distance(name, k); d < least && 4*d <= len(k) {
			best, least = k, d
		}
	}
	return best
}

// distance counts the letters to insert, delete or change: the Levenshtein distance, by the usual
// dynamic programme over one row.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, diagonal+1, row[j]+1)
		}
	}
	return row[len(b)]
}
