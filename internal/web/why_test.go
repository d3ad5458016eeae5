package web

import "testing"

func TestTheWordsOfTheArithmeticAreACoordinators(t *testing.T) {
	p := orin()
	for text, want := range map[string]string{
		"2031-05-20: the window shuts after":                             "20 May: the last day before the window shuts",
		"less 1 days slip: 2032-05-19":                                   "less 1 day slip: 19 May 2032",
		"less 31 days lead time":                                         "less 31 days lead time",
		"68245 L cover the shortage at the risk target":                  "68 245 L cover the shortage at the risk target",
		"on this path the window early-summer brings nothing":            "in this future the window early summer brings nothing",
		"on all but the accepted 5 % of paths to the end of the horizon": "on all but the accepted 5 % of futures to the end of the time looked at",
		"order 2031-13-45 is no date, 2031 is a year":                    "order 2031-13-45 is no date, 2031 is a year",
	} {
		if got := spaced(inWords(text, p)); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
	for event, want := range map[string]string{
		"order A-7 arrives; below the reserve": "Order A-7 arrives; first day below the reserve",
		"an order placed today arrives":        "Fuel ordered today would arrive",
		"an event of a later version":          "An event of a later version",
	} {
		if got := eventInWords(event); got != want {
			t.Errorf("%q: %q, want %q", event, got, want)
		}
	}
}
