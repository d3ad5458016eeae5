package lots

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"overwinter/internal/units"
)

// kilo is the unit of the referees' models: they hold numbers of the size 1 to 10,000 best.
const kilo = 1000

// model writes a plant as a mixed integer program in the LP format (CPLEX's, which CBC and GLPK read), in kilolitres and thousands of money. It follows the words of docs/lots.md
// from one interval to the next: D is what has been delivered, H what is above the need, z says whether a window is used, n and m count steps and loads.
func model(p *Plant) string {
	var objective, rows, bounds, binary, general strings.Builder
	num := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	row := func(format string, args ...any) { fmt.Fprintf(&rows, " "+format+"\n", args...) }
	largestNeed := 0.0
	for _, w := range p.Windows {
		largestNeed = max(largestNeed, float64(w.Need))
	}
	for i, w := range p.Windows {
		fmt.Fprintf(&objective, " + %s z%d + %s x%d + %s H%d\n", num(float64(w.Fixed)/kilo), i, num(float64(w.Price)), i, num(float64(w.Carrying)), i)
		before := ""
		if i > 0 {
			before = fmt.Sprintf(" - D%d", i-1)
		}
		if f := w.Fallback; f != nil {
			fmt.Fprintf(&objective, " + %s e%d\n", num(float64(f.Price)), i)
			if f.Load > 0 {
				row("load%d: e%d - %s m%d = 0", i, i, num(float64(f.Load)/kilo), i)
				fmt.Fprintf(&general, " m%d\n", i)
			}
		} else {
			fmt.Fprintf(&bounds, " e%d = 0\n", i)
		}
		row("goes%d: D%d%s - x%d - e%d = 0", i, i, before, i, i)
		row("need%d: D%d - H%d = %s", i, i, i, num(float64(w.Need)/kilo))
		fmt.Fprintf(&bounds, " D%d free\n", i)
		if !math.IsInf(float64(w.Room), 1) {
			row("room%d: %sx%d <= %s", i, strings.TrimPrefix(strings.Replace(before, " - D", "D", 1)+" + ", " + "), i, num(float64(w.Room)/kilo))
		}
		most := math.Min(float64(w.Max), math.Max(float64(w.Min), largestNeed+float64(w.Step)))
		row("most%d: x%d - %s z%d <= 0", i, i, num(most/kilo), i)
		row("least%d: x%d - %s z%d >= 0", i, i, num(float64(w.Min)/kilo), i)
		fmt.Fprintf(&binary, " z%d\n", i)
		if w.Step > 0 {
			row("step%d: x%d - %s n%d = 0", i, i, num(float64(w.Step)/kilo), i)
			fmt.Fprintf(&general, " n%d\n", i)
		}
	}
	for i, l := range p.Limits {
		var litres, money strings.Builder
		for _, w := range l.Windows {
			fmt.Fprintf(&litres, " + x%d", w)
			fmt.Fprintf(&money, " + %s x%d + %s z%d", num(float64(p.Windows[w].Price)), w, num(float64(p.Windows[w].Fixed)/kilo), w)
		}
		if l.Litres != nil {
			row("litres%d:%s <= %s", i, litres.String(), num(float64(*l.Litres)/kilo))
		}
		if l.Money != nil {
			row("money%d:%s <= %s", i, money.String(), num(float64(*l.Money)/kilo))
		}
	}
	text := "Minimize\n cost:" + objective.String() + "Subject To\n" + rows.String() + "Bounds\n" + bounds.String() + "Binary\n" + binary.String()
	if general.Len() > 0 {
		text += "General\n" + general.String()
	}
	return text + "End\n"
}

// referee is a solver of mixed integer programs.
type referee struct {
	name  string
	solve func(ctx context.Context, dir, model string) (values map[string]float64, err error) // nil values: no plan
}

var referees = []referee{{"cbc", cbc}, {"glpsol", glpsol}}

// cbc solves with COIN-OR CBC.
func cbc(ctx context.Context, dir, model string) (map[string]float64, error) {
	out := filepath.Join(dir, "cbc.txt")
	cmd := exec.CommandContext(ctx, "cbc", model, "-ratioGap", "0", "-allowableGap", "0", "-primalTolerance", "1e-9", "-integerTolerance", "1e-9", "-solve", "-solution", out)
	said, err := cmd.CombinedOutput()
	if err != nil {
		return nil, fmt.Errorf("%w: %s", err, said)
	}
	text, err := os.ReadFile(out)
	if err != nil {
		return nil, fmt.Errorf("%w: %s", err, said)
	}
	first, rest, _ := strings.Cut(string(text), "\n")
	if strings.Contains(strings.ToLower(first), "infeasible") {
		return nil, nil
	}
	if !strings.HasPrefix(first, "Optimal") {
		return nil, fmt.Errorf("%s", first)
	}
	values := map[string]float64{}
	for line := range strings.Lines(rest) {
		f := strings.Fields(strings.TrimPrefix(strings.TrimSpace(line), "**"))
		if len(f) < 3 {
			continue
		}
		x, err := strconv.ParseFloat(f[2], 64)
		if err != nil {
			return nil, err
		}
		values[f[1]] = x
	}
	return values, nil
}

// glpsol solves with GLPK.
func glpsol(ctx context.Context, dir, model string) (map[string]float64, error) {
	out := filepath.Join(dir, "glpsol.txt")
	said, err := exec.CommandContext(ctx, "glpsol", "--lp", model, "--mipgap", "0", "-w", out).CombinedOutput()
	if err != nil {
		return nil, fmt.Errorf("%w: %s", err, said)
	}
	text, err := os.ReadFile(out)
	if err != nil {
		return nil, err
	}
	names, status, values := columns(model), "", map[string]float64{}
	for line := range strings.Lines(string(text)) {
		f := strings.Fields(line)
		switch {
		case len(f) >= 5 && f[0] == "s":
			status = f[4]
		case len(f) == 3 && f[0] == "j":
			j, err := strconv.Atoi(f[1])
			if err != nil {
				return nil, err
			}
			if values[names[j-1]], err = strconv.ParseFloat(f[2], 64); err != nil {
				return nil, err
			}
		}
	}
	switch {
	case status == "o":
		return values, nil
	case status == "n" || bytes.Contains(said, []byte("HAS NO PRIMAL FEASIBLE SOLUTION")) || bytes.Contains(said, []byte("HAS NO INTEGER FEASIBLE SOLUTION")):
		return nil, nil
	}
	return nil, fmt.Errorf("status %q: %s", status, said)
}

// columns lists the variables of a model in the order in which they first stand there, which is how GLPK counts them.
func columns(model string) []string {
	text, err := os.ReadFile(model)
	if err != nil {
		return nil
	}
	var names []string
	body, _, _ := strings.Cut(string(text), "Bounds\n")
	for _, word := range strings.Fields(body) {
		if strings.ContainsRune("zxeHDnm", rune(word[0])) && len(word) > 1 && word[1] >= '0' && word[1] <= '9' && !slices.Contains(names, word) {
			names = append(names, word)
		}
	}
	return names
}

// cleaned takes a referee's plan in litres, without what its tolerances leave: lots of windows that are not used, parts of steps.
func cleaned(p *Plant, values map[string]float64) (lots, fallback []units.LitresAt15) {
	whole := func(x float64, step units.LitresAt15) units.LitresAt15 {
		if step > 0 {
			return units.LitresAt15(math.Round(x*kilo/float64(step))) * step
		}
		return units.LitresAt15(x * kilo)
	}
	for i, w := range p.Windows {
		x, e := units.LitresAt15(0), units.LitresAt15(0)
		if values[fmt.Sprintf("z%d", i)] > 0.5 {
			x = whole(values[fmt.Sprintf("x%d", i)], w.Step)
		}
		if w.Fallback != nil {
			e = max(0, whole(values[fmt.Sprintf("e%d", i)], w.Fallback.Load))
		}
		lots, fallback = append(lots, x), append(fallback, e)
	}
	return lots, fallback
}

// needReferees skips where a referee is not installed, unless it must be there.
func needReferees(t *testing.T) {
	t.Helper()
	for _, r := range referees {
		if _, err := exec.LookPath(r.name); err == nil {
			continue
		}
		if os.Getenv("OVERWINTER_TEST_SOLVERS") == "required" {
			t.Fatalf("%s was not found: install coinor-cbc and glpk-utils, as Debian calls them", r.name)
		}
		t.Skipf("%s was not found: install coinor-cbc and glpk-utils, as Debian calls them", r.name)
	}
}

// Plans are held against CBC and GLPK, each of which gets the words of the problem as a mixed integer program. Their plans are priced by the product's own
// function, so that nothing but the plans is compared.
func TestPlansCostWhatTwoSolversFind(t *testing.T) {
	needReferees(t)
	for _, kind := range []struct {
		name   string
		plants int
		seed   uint64
		more   func(*rand.Rand, *Plant)
	}{
		{"any amounts", 200, 11, func(*rand.Rand, *Plant) {}},
		{"with limits", 40, 12, limited},
		{"in steps", 40, 13, inSteps},
		{"all in steps", 30, 15, allInSteps},
		{"in steps with limits", 30, 14, func(r *rand.Rand, p *Plant) { inSteps(r, p); limited(r, p) }},
	} {
		t.Run(kind.name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(kind.seed, 1))
			dir := t.TempDir()
			took := map[string]time.Duration{}
			infeasible, worst := 0, 0.0
			for i := range kind.plants {
				p := invented(r, 2+r.IntN(7))
				kind.more(r, p)
				begun := time.Now()
				plan, err := p.Best()
				took["Best"] += time.Since(begun)
				if err != nil {
					infeasible++
				}
				file := filepath.Join(dir, "model.lp")
				if err := os.WriteFile(file, []byte(model(p)), 0o600); err != nil {
					t.Fatal(err)
				}
				for _, referee := range referees {
					begun := time.Now()
					values, refused := referee.solve(t.Context(), dir, file)
					took[referee.name] += time.Since(begun)
					if refused != nil {
						t.Fatalf("plant %d: %s: %v", i, referee.name, refused)
					}
					if (values == nil) != (err != nil) {
						t.Errorf("plant %d: %s finds a plan: %v; Best: %v", i, referee.name, values != nil, err)
						continue
					}
					if values == nil {
						continue
					}
					lots, fallback := cleaned(p, values)
					if by := breach(p, lots, fallback); by > 1 { // litres of millions: CBC's tolerance
						t.Errorf("plant %d: %s breaks a bound by %v", i, referee.name, by)
					}
					theirs := float64(p.CostOf(lots, fallback).Total)
					off := (float64(plan.Cost.Total) - theirs) / theirs
					worst = max(worst, math.Abs(off))
					if math.Abs(off) > 1e-6 && plan.Proved || off > 1e-6 && float64(plan.Bound) > theirs*(1+1e-6) {
						t.Errorf("plant %d: cost %v, %s %v", i, plan.Cost.Total, referee.name, theirs)
					}
				}
			}
			n := time.Duration(kind.plants)
			t.Logf("%d plants, %d of them without a plan; largest relative difference %.2g; a plant: %v, cbc %v, glpsol %v, each started anew",
				kind.plants, infeasible, worst, took["Best"]/n, took["cbc"]/n, took["glpsol"]/n)
		})
	}
}
