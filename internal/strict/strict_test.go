package strict

import (
	"errors"
	"strings"
	"testing"
	"testing/iotest"

	"overwinter/internal/fault"
	"overwinter/internal/units"
)

// shelf reads an object with a name, a width in some unit and a list of numbers.
func shelf(text string) (name string, width units.Millimetres, numbers []float64, err error) {
	r := New("shelf.json", "shelf description")
	root, err := r.Parse(strings.NewReader(text))
	if err != nil || root == nil {
		return "", 0, nil, errors.Join(err, r.Err())
	}
	if o, ok := r.Object(root); ok {
		name = o.Word("name", true, "oak", "ash")
		width = o.Length("width", true)
		if list := o.Field("numbers", IsList, false); list != nil {
			for _, n := range list.Members {
				if item, ok := r.Object(n); ok {
					x, _ := item.Number("x", true)
					numbers = append(numbers, x)
					item.Done()
				}
			}
		}
		o.Done()
	}
	return name, width, numbers, r.Err()
}

func TestFieldsAreReadInAnyOrderAndUnit(t *testing.T) {
	name, width, numbers, err := shelf("\xef\xbb\xbf{\"numbers\":[{\"x\":1},{\"x\":-2.5e1}],\"width_in\":10,\"name\":\"ash\"}")
	if err != nil || name != "ash" || width != 254 || len(numbers) != 2 || numbers[1] != -25 {
		t.Error(name, width, numbers, err)
	}
}

func TestEachProblemNamesItsFileLineAndField(t *testing.T) {
	for _, tt := range []struct{ text, says string }{
		{"", "shelf.json: empty: expected a JSON object, the shelf description"},
		{"\xff", "shelf.json: not UTF-8"},
		{"{\n\n]", "shelf.json:3: this is no JSON"},
		{"3", `shelf.json:1: found a number ("3"): expected an object`},
		{`{"name":"ash"}`, "shelf.json:1:width_mm (or _cm, _m, _in, _ft): missing: the description needs it"},
		{`{"name":"elm","width_m":1}`, `shelf.json:1:name: "elm": expected oak or ash`},
		{"{\"name\":\"ash\",\n\"width_m\":1,\n\"width_mm\":1000}", "shelf.json:3:width_mm: the same as width_m, in another unit: keep one"},
		{`{"name":"ash","name":"oak"}`, "name: the field stands twice: keep one"},
		{`{"name":"ash","width_m":true}`, "width_m: found true: expected a number"},
		{`{"name":"ash","width_m":1e999}`, `width_m: "1e999" is too large a number`},
		{"{\"name\":\"ash\",\"width_m\":1,\"numbers\":[{\"x\":1},\n{\"y\":1}]}", "shelf.json:2:numbers[2].y: no such field here: expected one of x"},
		{`{"name":"ash","width_m":1,"hight_m":1}`, "hight_m: no such field here: expected one of name, width_mm, numbers"},
		{strings.Repeat("[", 25) + strings.Repeat("]", 25), "nested deeper than 24 levels"},
		{`{"name":"` + strings.Repeat("x", LongestText) + `"}`, "shelf.json: longer than 8 MB: is it a shelf description?"},
	} {
		_, _, _, err := shelf(tt.text)
		if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%.100s\n%v\nwant %s", tt.text, err, tt.says)
		}
	}
}

func TestTheFirstProblemsAreListedAndTheOthersCounted(t *testing.T) {
	_, _, _, err := shelf(`{"name":"ash","width_m":1,"numbers":[` + strings.Repeat(`5,`, 29) + `5]}`)
	var f *fault.Error
	if !errors.As(err, &f) || len(f.Fields) != mostProblems+1 || f.Fields[mostProblems].Message != "and 10 more" {
		t.Error(err)
	}
}

func TestAFileThatBreaksOffIsNoDescription(t *testing.T) {
	_, err := New("shelf.json", "shelf description").Parse(iotest.ErrReader(errors.New("gone")))
	if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), "shelf.json cannot be read") {
		t.Error(err)
	}
}
