package api

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"unicode/utf16"
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
	if loneSurrogate(data) {
		return errors.New("a text holds half of a character, an escape from \\ud800 to \\udfff without its other half: send the character whole")
	}
	return noNameTwice(json.NewDecoder(bytes.NewReader(data)))
}

// loneSurrogate tells whether valid JSON holds an escaped half of a character, which a reader would put
// another character for.
func loneSurrogate(data []byte) bool {
	for i := 0; i+1 < len(data); i++ {
		if data[i] != '\\' {
			continue
		}
		if data[i+1] != 'u' {
			i++ // the escaped character
			continue
		}
		first := escaped(data[i:])
		if utf16.IsSurrogate(first) {
			if utf16.DecodeRune(first, escaped(data[i+6:])) == utf8.RuneError {
				return true
			}
			i += 6
		}
		i += 5
	}
	return false
}

// escaped reads an escape such as \u00e9 at the start of a text, 0 where there is none.
func escaped(data []byte) rune {
	if len(data) < 6 || data[0] != '\\' || data[1] != 'u' {
		return 0
	}
	value, err := strconv.ParseUint(string(data[2:6]), 16, 16)
	if err != nil {
		return 0
	}
	return rune(value)
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
