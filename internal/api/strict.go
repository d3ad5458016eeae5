package api

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"unicode/utf8"
)

// strict reads JSON and refuses what two readers could take for two things: text that is not UTF-8 and
// names that come twice. Names that nobody knows are refused by the checks that follow.
func strict(data []byte, into any) error {
	if !utf8.Valid(data) {
		return errors.New("the body is not valid UTF-8")
	}
	if err := json.Unmarshal(data, into); err != nil {
		var syntax *json.SyntaxError
		if errors.As(err, &syntax) {
			return fmt.Errorf("the body is not valid JSON: it breaks at byte %d", syntax.Offset)
		}
		return errors.New("a value of the body cannot be held: a number is too large or a text has the wrong form")
	}
	return noNameTwice(json.NewDecoder(bytes.NewReader(data)))
}

// noNameTwice walks one JSON value, known to be valid.
func noNameTwice(d *json.Decoder) error {
	token, err := d.Token()
	if err != nil {
		return errors.New("the body is not valid JSON")
	}
	switch token {
	case json.Delim('['):
		for d.More() {
			if err := noNameTwice(d); err != nil {
				return err
			}
		}
	case json.Delim('{'):
		seen := map[json.Token]bool{}
		for d.More() {
			name, err := d.Token()
			if err != nil {
				return errors.New("the body is not valid JSON")
			}
			if seen[name] {
				return fmt.Errorf("the name %q comes twice in one object: give each value once", name)
			}
			seen[name] = true
			if err := noNameTwice(d); err != nil {
				return err
			}
		}
	default:
		return nil
	}
	_, err = d.Token() // the closing bracket
	return err
}
