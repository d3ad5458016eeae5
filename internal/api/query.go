package api

import (
	"net/url"
	"regexp"
	"strings"

	"github.com/danielgtaylor/huma/v2"
)

// Resolve refuses a query of which a part would be passed over, so that another question would be answered: what is no pair
// of a name and a value, and a name that comes twice.
func (Conditional) Resolve(ctx huma.Context) []error {
	given := ctx.URL()
	for pair := range strings.SplitSeq(given.RawQuery, "&") {
		if _, err := url.ParseQuery(pair); err != nil {
			return refused("", "a part of it cannot be read: expected name=value pairs joined by &, with %25 for a percent sign and %3B for a semicolon", pair)
		}
	}
	query := given.Query()
	for name, values := range query {
		if len(values) > 1 {
			return refused(name, "given more than once: expected one value", "")
		}
	}
	for _, p := range ctx.Operation().Parameters {
		if p.In == "query" && query.Has(p.Name) && query.Get(p.Name) == "" && !blankable(p.Schema) {
			return refused(p.Name, "blank: give a value, or leave the name out", "")
		}
	}
	return nil
}

// blankable tells whether a blank is a value of a parameter: one that may be any text.
func blankable(s *huma.Schema) bool {
	return s.Type == huma.TypeString && len(s.Enum) == 0 && s.Pattern == ""
}

// number refuses a parameter that strconv reads and that is no plain number, such as NaN, which lies beyond no limit.
func (c Conditional) number(ctx huma.Context, name, example string) []error {
	if text := ctx.Query(name); text != "" && !plainNumber.MatchString(text) {
		return refused(name, "expected a plain decimal number such as "+example, text)
	}
	return c.Resolve(ctx)
}

var plainNumber = regexp.MustCompile(`^[0-9]+(\.[0-9]+)?$`)

func refused(name, message, value string) []error {
	return []error{&huma.ErrorDetail{Location: "query." + name, Message: message, Value: value}}
}
