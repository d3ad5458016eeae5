package strap

import (
	"bytes"
	"encoding/json"
	"errors"
	"strconv"
	"unicode/utf8"

	"overwinter/internal/fault"
)

// The most that a description may be: a table of a row for each millimetre of a tall tank fits several
// times over, and nobody nests objects this deep.
const (
	longestText = 8 << 20
	deepest     = 24
)

// node is one JSON value with its place in the text.
type node struct {
	kind    string // as an error calls it: an object, a list, a number, a text, true or false, null
	line    int
	text    string // of a number or text
	truth   bool
	members []*node // of an object or list
	key     string  // its name in an object
	number  int     // its place in a list, counted from 1
	parent  *node
}

// The kinds of value.
const (
	isObject = "an object"
	isList   = "a list"
	isNumber = "a number"
	isText   = "a text"
	isTruth  = "true or false"
	isNull   = "null"
)

// path names a value by the fields that lead to it, places in lists counted from 1: heads.left.depth_mm,
// tanks[2].diameter_m.
func (n *node) path() string {
	if n.parent == nil {
		return ""
	}
	before := n.parent.path()
	switch {
	case n.number > 0:
		return before + "[" + strconv.Itoa(n.number) + "]"
	case before == "":
		return n.key
	}
	return before + "." + n.key
}

// where names a line of the text and a value, as far as they are known.
func (r *reader) where(line int, path string) string {
	place := r.name
	if line > 0 {
		place += ":" + strconv.Itoa(line)
	}
	if path != "" {
		place += ":" + path
	}
	return place
}

// parse reads a whole text as one JSON value. What encoding/json would pass over is refused: fields that
// stand twice, text that is no UTF-8.
func (r *reader) parse(text []byte) *node {
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	switch {
	case len(text) > longestText:
		r.problemAt(0, "", "longer than %d MB: is it a tank description?", longestText>>20)
		return nil
	case len(bytes.TrimSpace(text)) == 0:
		r.problemAt(0, "", "empty: expected a JSON object that describes a tank")
		return nil
	case !utf8.Valid(text):
		r.problemAt(0, "", "not UTF-8: save it as UTF-8")
		return nil
	}
	var whole json.RawMessage
	if err := json.Unmarshal(text, &whole); err != nil {
		line := 0
		if wrong := (*json.SyntaxError)(nil); errors.As(err, &wrong) {
			line = lineAt(text, wrong.Offset)
		}
		r.problemAt(line, "", "this is no JSON: %v", err)
		return nil
	}
	p := parser{reader: r, text: text, tokens: json.NewDecoder(bytes.NewReader(text)), line: 1}
	p.tokens.UseNumber()
	return p.value(&node{}, 0)
}

// parser turns the tokens of a valid text into nodes.
type parser struct {
	*reader
	text    []byte
	tokens  *json.Decoder
	line    int
	counted int64 // how far lines were counted
}

// next gives the next token and counts its line.
func (p *parser) next() json.Token {
	token, _ := p.tokens.Token()
	offset := p.tokens.InputOffset()
	p.line += bytes.Count(p.text[p.counted:offset], []byte{'\n'})
	p.counted = offset
	return token
}

// value reads a value into a node that knows its place; nil after a problem.
func (p *parser) value(n *node, depth int) *node {
	token := p.next()
	n.line = p.line
	switch t := token.(type) {
	case json.Delim:
		if depth >= deepest {
			p.problem(n, "nested deeper than %d levels", deepest)
			return nil
		}
		if t == '{' {
			n.kind = isObject
			return p.object(n, depth)
		}
		n.kind = isList
		for i := 1; p.tokens.More(); i++ {
			member := p.value(&node{parent: n, number: i}, depth+1)
			if member == nil {
				return nil
			}
			n.members = append(n.members, member)
		}
		p.next()
	case json.Number:
		n.kind, n.text = isNumber, t.String()
	case string:
		n.kind, n.text = isText, t
	case bool:
		n.kind, n.truth = isTruth, t
	default:
		n.kind = isNull
	}
	return n
}

// object reads the members of an object.
func (p *parser) object(n *node, depth int) *node {
	seen := map[string]bool{}
	for p.tokens.More() {
		key, _ := p.next().(string)
		member := &node{parent: n, key: key, line: p.line}
		if seen[key] {
			p.problem(member, "the field stands twice: keep one")
			return nil
		}
		seen[key] = true
		if member = p.value(member, depth+1); member == nil {
			return nil
		}
		n.members = append(n.members, member)
	}
	p.next()
	return n
}

// lineAt counts the line of a place in a text.
func lineAt(text []byte, offset int64) int {
	return 1 + bytes.Count(text[:min(max(0, offset-1), int64(len(text)))], []byte{'\n'})
}

// mostProblems bounds the list of problems; the first ones are the ones to mend.
const mostProblems = 20

func (r *reader) problemAt(line int, path, format string, args ...any) {
	r.more++
	if len(r.problems) < mostProblems {
		r.problems = append(r.problems, fault.Field{Where: r.where(line, path), Message: message(format, args...)})
	}
}

func (r *reader) problem(n *node, format string, args ...any) {
	r.problemAt(n.line, n.path(), format, args...)
}
