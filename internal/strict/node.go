package strict

import (
	"bytes"
	"encoding/json"
	"errors"
	"strconv"
	"unicode/utf8"

	"overwinter/internal/fault"
)

// LongestText is the most bytes that a text may have: a table of a row for each millimetre of a tall tank fits several times over.
const LongestText = 8 << 20

// deepest bounds nesting: nobody nests objects this deep.
const deepest = 24

// Node is one JSON value with its place in the text.
type Node struct {
	Kind    string // as an error calls it: one of the kinds below
	Line    int
	Text    string // of a number or text
	Truth   bool
	Members []*Node // of an object or list
	key     string  // its name in an object
	number  int     // its place in a list, counted from 1
	parent  *Node
}

// The kinds of value.
const (
	IsObject = "an object"
	IsList   = "a list"
	IsNumber = "a number"
	IsText   = "a text"
	IsTruth  = "true or false"
	IsNull   = "null"
)

// Path names a value by the fields that lead to it, places in lists counted from 1: heads.left.depth_mm,
// tanks[2].diameter_m.
func (n *Node) Path() string {
	if n.parent == nil {
		return ""
	}
	before := n.parent.Path()
	switch {
	case n.number > 0:
		return before + "[" + strconv.Itoa(n.number) + "]"
	case before == "":
		return n.key
	}
	return before + "." + n.key
}

// Where names a value by the file, its line and its path.
func (r *Reader) Where(n *Node) string { return r.where(n.Line, n.Path()) }

// Name is the value's name in its object, "" in a list.
func (n *Node) Name() string { return n.key }

// where names a line of the text and a value, as far as they are known.
func (r *Reader) where(line int, path string) string {
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
func (r *Reader) parse(text []byte) *Node {
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	switch {
	case len(text) > LongestText:
		r.problemAt(0, "", "longer than %d MB: is it a %s?", LongestText>>20, r.what)
		return nil
	case len(bytes.TrimSpace(text)) == 0:
		r.problemAt(0, "", "empty: expected a JSON object, the %s", r.what)
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
	p := parser{Reader: r, text: text, tokens: json.NewDecoder(bytes.NewReader(text)), line: 1}
	p.tokens.UseNumber()
	return p.value(&Node{}, 0)
}

// parser turns the tokens of a valid text into nodes.
type parser struct {
	*Reader
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
func (p *parser) value(n *Node, depth int) *Node {
	token := p.next()
	n.Line = p.line
	switch t := token.(type) {
	case json.Delim:
		if depth >= deepest {
			p.Problem(n, "nested deeper than %d levels", deepest)
			return nil
		}
		if t == '{' {
			n.Kind = IsObject
			return p.object(n, depth)
		}
		n.Kind = IsList
		for i := 1; p.tokens.More(); i++ {
			member := p.value(&Node{parent: n, number: i}, depth+1)
			if member == nil {
				return nil
			}
			n.Members = append(n.Members, member)
		}
		p.next()
	case json.Number:
		n.Kind, n.Text = IsNumber, t.String()
	case string:
		n.Kind, n.Text = IsText, t
	case bool:
		n.Kind, n.Truth = IsTruth, t
	default:
		n.Kind = IsNull
	}
	return n
}

// object reads the members of an object.
func (p *parser) object(n *Node, depth int) *Node {
	seen := map[string]bool{}
	for p.tokens.More() {
		key, _ := p.next().(string)
		member := &Node{parent: n, key: key, Line: p.line}
		if seen[key] {
			p.Problem(member, "the field stands twice: keep one")
			return nil
		}
		seen[key] = true
		if member = p.value(member, depth+1); member == nil {
			return nil
		}
		n.Members = append(n.Members, member)
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

func (r *Reader) problemAt(line int, path, format string, args ...any) {
	r.count++
	if len(r.problems) < mostProblems {
		r.problems = append(r.problems, fault.Field{Where: r.where(line, path), Message: message(format, args...)})
	}
}

// Problem notes what is wrong with a value.
func (r *Reader) Problem(n *Node, format string, args ...any) {
	r.problemAt(n.Line, n.Path(), format, args...)
}
