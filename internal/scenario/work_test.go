package scenario

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"regexp"
	"strconv"
	"strings"

	"overwinter/internal/tanks"
	"overwinter/internal/units"
)

// unitWords may stand in a sum for the eye.
var unitWords = regexp.MustCompile(`\b(L|mm|C|days|kWh|gal)\b`)

// work checks a sum such as "41 000 L × 1.00912 = 41 373.9 L" and gives its result as written. The result
// has to be right to half of its last digit.
func work(text string) (result float64, err error) {
	left, right, ok := strings.Cut(plain(text), " = ")
	if !ok {
		return 0, fmt.Errorf("%q is no sum: expected an equals sign", text)
	}
	right = strings.TrimSpace(unitWords.ReplaceAllString(right, ""))
	result, err = strconv.ParseFloat(right, 64)
	if err != nil {
		return 0, fmt.Errorf("%q is no result", right)
	}
	left = unitWords.ReplaceAllString(strings.ReplaceAll(left, "×", "*"), "")
	expr, err := parser.ParseExpr(left)
	if err != nil {
		return 0, fmt.Errorf("%q is no sum: %w", left, err)
	}
	v, err := value(expr)
	if err == nil && !printsAs(v, right) {
		err = fmt.Errorf("%s comes to %v, not %s", left, v, right)
	}
	return result, err
}

// printsAs tells whether a number is what was written, to half of the last digit.
func printsAs(v float64, written string) bool {
	stated, err := strconv.ParseFloat(written, 64)
	decimals := 0
	if _, after, ok := strings.Cut(written, "."); ok {
		decimals = len(after)
	}
	return err == nil && math.Abs(v-stated) <= 0.5000001*math.Pow10(-decimals)
}

// value reckons a sum as a pocket calculator does.
func value(e ast.Expr) (float64, error) {
	switch e := e.(type) {
	case *ast.BasicLit:
		return strconv.ParseFloat(e.Value, 64)
	case *ast.ParenExpr:
		return value(e.X)
	case *ast.UnaryExpr:
		v, err := value(e.X)
		if e.Op == token.SUB {
			return -v, err
		}
	case *ast.CallExpr:
		if name, ok := e.Fun.(*ast.Ident); ok && name.Name == "root" && len(e.Args) == 1 {
			v, err := value(e.Args[0])
			return math.Sqrt(v), err
		}
	case *ast.BinaryExpr:
		x, err := value(e.X)
		if err != nil {
			return 0, err
		}
		y, err := value(e.Y)
		switch e.Op {
		case token.ADD:
			return x + y, err
		case token.SUB:
			return x - y, err
		case token.MUL:
			return x * y, err
		case token.QUO:
			return x / y, err
		}
	}
	return 0, fmt.Errorf("only numbers, + - × / ( ) and root( ) can be reckoned with")
}

// factor checks a volume correction factor such as "-12 C, 820 = 1.02242": temperature, density at 15 °C.
func factor(text string) error {
	given, written, ok := strings.Cut(plain(text), " = ")
	temperature, density, ok2 := strings.Cut(given, " C, ")
	t, err1 := strconv.ParseFloat(temperature, 64)
	rho, err2 := strconv.ParseFloat(density, 64)
	if !ok || !ok2 || err1 != nil || err2 != nil {
		return fmt.Errorf("%q is no factor: expected as in -12 C, 820 = 1.02242", text)
	}
	fuel, err := tanks.NewCorrector(units.KgPerM3(rho))
	if err != nil {
		return err
	}
	vcf, err := fuel.VCF(units.Celsius(t))
	if err == nil && !printsAs(vcf, written) {
		err = fmt.Errorf("the factor of %v kg/m³ at %v °C is %.7f, not %s", rho, t, vcf, written)
	}
	return err
}
