package web

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"overwinter/internal/advice"
	"overwinter/internal/calendar"
	"overwinter/internal/notice"
)

// noticeRow is a warning; its subject is left out where it is the plant itself.
type noticeRow struct {
	Severity, Subject, Message string
	Act                        bool
}

// severities orders notices: what a person should act on first.
var severities = map[notice.Severity]int{notice.Serious: 0, notice.Caution: 1, notice.Info: 2}

func noticeRows(p advice.Plant) []noticeRow {
	sorted := slices.Clone(p.Notices)
	slices.SortStableFunc(sorted, func(a, b notice.Notice) int { return cmp.Compare(severities[a.Severity], severities[b.Severity]) })
	var rows []noticeRow
	for _, n := range sorted {
		r := noticeRow{Severity: string(n.Severity), Subject: n.Subject, Message: typeset(n, p), Act: n.Severity == notice.Serious}
		if n.Subject == p.Plant {
			r.Subject = ""
		}
		if n.Count > 1 {
			r.Message += " (" + whole(float64(n.Count)) + " times)"
		}
		rows = append(rows, r)
	}
	return rows
}

// How days and long numbers stand in the message of a notice.
var (
	isoDay     = regexp.MustCompile(`\b\d{4}-\d{2}-\d{2}\b`)
	longNumber = regexp.MustCompile(`\b\d{5,}\b`)
)

// typeset sets the days, the long numbers and the name of the window in a message as everywhere on the
// pages. Its words are those of who raised the notice: none is looked for, so that any message will do. A
// number that the subject has is a name.
func typeset(n notice.Notice, p advice.Plant) string {
	message := isoDay.ReplaceAllStringFunc(n.Message, func(iso string) string {
		d, err := calendar.ParseDay(iso)
		if err != nil {
			return iso
		}
		return longDay(d, p.AsOf)
	})
	message = longNumber.ReplaceAllStringFunc(message, func(digits string) string {
		x, err := strconv.ParseFloat(digits, 64)
		if err != nil || strings.Contains(n.Subject, digits) {
			return digits
		}
		return whole(x)
	})
	for _, w := range p.Windows {
		if n.Subject == w.Route && w.Window != "" {
			message = strings.ReplaceAll(message, w.Window, plain(w.Window))
		}
	}
	return message
}
