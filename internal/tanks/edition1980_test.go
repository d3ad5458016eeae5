package tanks

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"overwinter/internal/units"
)

// Volume correction factors of Measurement Canada, issued in January 2016, Table 54B: each row has the factors at
// its temperature and at 0.1, 0.2 ... 0.9 °C below. Read from the text of two pages, which break off near
// −20 °C: jet fuel at 800 kg/m³ from a reprint (online.documentine.com, "volume correction factors to 15 °C for
// use with all grades of jet A"), aviation gasoline at 710 kg/m³ from the office's own page
// (strategis.ic.gc.ca/eic/site/mc-mc.nsf/fra/lm04777.html).
const canadianJet = `
-40 1.0502
-39 1.0493 1.0494 1.0495 1.0496 1.0497 1.0498 1.0499 1.0500 1.0500 1.0501
-38 1.0484 1.0485 1.0486 1.0487 1.0488 1.0489 1.0490 1.0491 1.0492 1.0492
-37 1.0475 1.0476 1.0477 1.0478 1.0479 1.0480 1.0481 1.0482 1.0483 1.0483
-36 1.0466 1.0467 1.0468 1.0469 1.0470 1.0471 1.0472 1.0473 1.0474 1.0474
-35 1.0457 1.0458 1.0459 1.0460 1.0461 1.0462 1.0463 1.0464 1.0465 1.0465
-34 1.0448 1.0449 1.0450 1.0451 1.0452 1.0453 1.0454 1.0455 1.0456 1.0456
-33 1.0439 1.0440 1.0441 1.0442 1.0443 1.0444 1.0445 1.0446 1.0447 1.0447
-32 1.0430 1.0431 1.0432 1.0433 1.0434 1.0435 1.0436 1.0437 1.0438 1.0438
-31 1.0421 1.0422 1.0423 1.0424 1.0425 1.0426 1.0427 1.0428 1.0429 1.0429
-30 1.0412 1.0413 1.0414 1.0415 1.0416 1.0417 1.0418 1.0419 1.0420 1.0420
-29 1.0403 1.0404 1.0405 1.0406 1.0407 1.0408 1.0409 1.0410 1.0411 1.0411
-28 1.0394 1.0395 1.0396 1.0397 1.0398 1.0399 1.0400 1.0401 1.0402 1.0402
-27 1.0385 1.0386 1.0387 1.0388 1.0389 1.0390 1.0391 1.0392 1.0392 1.0393
-26 1.0376 1.0377 1.0378 1.0379 1.0380 1.0381 1.0382 1.0383 1.0383 1.0384
-25 1.0367 1.0368 1.0369 1.0370 1.0371 1.0372 1.0373 1.0373 1.0374 1.0375
-24 1.0358 1.0359 1.0360 1.0361 1.0362 1.0363 1.0364 1.0364 1.0365 1.0366
-23 1.0349 1.0350 1.0351 1.0352 1.0353 1.0354 1.0354 1.0355 1.0356 1.0357
-22 1.0340 1.0341 1.0342 1.0343 1.0344 1.0344 1.0345 1.0346 1.0347 1.0348
-21 1.0331 1.0332 1.0333 1.0334 1.0334 1.0335 1.0336 1.0337 1.0338 1.0339`

const canadianAviationGasoline = `
-40 1.0700
-39 1.0688 1.0689 1.0690 1.0691 1.0693 1.0694 1.0695 1.0696 1.0698 1.0699
-38 1.0675 1.0677 1.0678 1.0679 1.0680 1.0681 1.0683 1.0684 1.0685 1.0686
-37 1.0663 1.0664 1.0665 1.0667 1.0668 1.0669 1.0670 1.0672 1.0673 1.0674
-36 1.0650 1.0652 1.0653 1.0654 1.0655 1.0657 1.0658 1.0659 1.0660 1.0662
-35 1.0638 1.0639 1.0641 1.0642 1.0643 1.0644 1.0646 1.0647 1.0648 1.0649
-34 1.0626 1.0627 1.0628 1.0629 1.0631 1.0632 1.0633 1.0634 1.0636 1.0637
-33 1.0613 1.0614 1.0616 1.0617 1.0618 1.0619 1.0621 1.0622 1.0623 1.0624
-32 1.0601 1.0602 1.0603 1.0604 1.0606 1.0607 1.0608 1.0609 1.0611 1.0612
-31 1.0588 1.0589 1.0591 1.0592 1.0593 1.0594 1.0596 1.0597 1.0598 1.0599
-30 1.0576 1.0577 1.0578 1.0579 1.0581 1.0582 1.0583 1.0584 1.0586 1.0587
-29 1.0563 1.0564 1.0566 1.0567 1.0568 1.0569 1.0571 1.0572 1.0573 1.0574
-28 1.0551 1.0552 1.0553 1.0554 1.0556 1.0557 1.0558 1.0559 1.0561 1.0562
-27 1.0538 1.0539 1.0541 1.0542 1.0543 1.0544 1.0546 1.0547 1.0548 1.0549
-26 1.0526 1.0527 1.0528 1.0529 1.0531 1.0532 1.0533 1.0534 1.0536 1.0537
-25 1.0513 1.0514 1.0516 1.0517 1.0518 1.0519 1.0521 1.0522 1.0523 1.0524
-24 1.0500 1.0502 1.0503 1.0504 1.0505 1.0507 1.0508 1.0509 1.0510 1.0512
-23 1.0488 1.0489 1.0490 1.0492 1.0493 1.0494 1.0495 1.0497 1.0498 1.0499
-22 1.0475 1.0476 1.0478 1.0479 1.0480 1.0482 1.0483 1.0484 1.0485 1.0487
-21 1.0463 1.0464 1.0465 1.0466 1.0468 1.0469 1.0470 1.0471 1.0473 1.0474
-20 1.0450 1.0451 1.0452 1.0454 1.0455 1.0456 1.0458 1.0459 1.0460 1.0461`

func TestTheTablesOfMeasurementCanadaComeOutToTheLastDigit(t *testing.T) {
	for density, table := range map[units.KgPerM3]string{800: canadianJet, 710: canadianAviationGasoline} {
		c := made(t)(Procedure{Edition: Edition1980, Rounded: true}.AtBase(density))
		smooth := made(t)(Procedure{Edition: Edition1980}.AtBase(density))
		for line := range strings.Lines(strings.TrimSpace(table)) {
			cells := strings.Fields(line)
			row, err := strconv.ParseFloat(cells[0], 64)
			if err != nil {
				t.Fatal(err)
			}
			for tenth, cell := range cells[1:] {
				at := units.Celsius(row - float64(tenth)/10) // finer than the printed Table 54B is entered
				if got := strconv.FormatFloat(c.exact(at), 'f', 4, 64); got != cell {
					t.Errorf("%v kg/m³ at %.1f °C: %s, printed %s", density, at, got, cell)
				}
				printed, err := strconv.ParseFloat(cell, 64)
				if err != nil {
					t.Fatal(err)
				}
				near(t, "unrounded", smooth.exact(at), printed, 0.52e-4)
			}
		}
	}
}

// Table 54B of 1980, 4 decimals: computed with a separate implementation.
func TestFactorsOf1980StayAsTheyWere(t *testing.T) {
	temperatures := []units.Celsius{-40, -30, -20, -10, 0, 5, 10, 20, 25, 30, 40, 50}
	rows := []struct {
		density units.KgPerM3
		want    []float64
	}{
		{800, []float64{1.0502, 1.0412, 1.0322, 1.0231, 1.0139, 1.0093, 1.0046, 0.9953, 0.9907, 0.9860, 0.9766, 0.9672}},
		{810, []float64{1.0490, 1.0402, 1.0314, 1.0225, 1.0135, 1.0090, 1.0045, 0.9955, 0.9909, 0.9864, 0.9772, 0.9680}},
		{820, []float64{1.0478, 1.0393, 1.0306, 1.0220, 1.0132, 1.0088, 1.0044, 0.9956, 0.9911, 0.9867, 0.9778, 0.9688}},
		{830, []float64{1.0467, 1.0383, 1.0299, 1.0214, 1.0129, 1.0086, 1.0043, 0.9957, 0.9913, 0.9870, 0.9783, 0.9695}},
		{840, []float64{1.0457, 1.0375, 1.0293, 1.0210, 1.0126, 1.0084, 1.0042, 0.9958, 0.9915, 0.9873, 0.9788, 0.9702}},
		{850, []float64{1.0450, 1.0369, 1.0288, 1.0206, 1.0124, 1.0083, 1.0041, 0.9958, 0.9917, 0.9875, 0.9791, 0.9707}},
		{860, []float64{1.0443, 1.0364, 1.0284, 1.0203, 1.0122, 1.0082, 1.0041, 0.9959, 0.9918, 0.9877, 0.9794, 0.9711}},
		{870, []float64{1.0437, 1.0358, 1.0280, 1.0200, 1.0120, 1.0080, 1.0040, 0.9960, 0.9919, 0.9879, 0.9797, 0.9716}},
		{880, []float64{1.0430, 1.0353, 1.0275, 1.0197, 1.0119, 1.0079, 1.0040, 0.9960, 0.9920, 0.9880, 0.9800, 0.9720}},
	}
	for _, row := range rows {
		c := made(t)(Procedure{Edition: Edition1980}.AtBase(row.density))
		for i, at := range temperatures {
			near(t, fmt.Sprint(row.density, " at ", at), vcf(t, c, at), row.want[i], 0.51e-4)
		}
	}
}

// Look-ups in Table 5B, a hydrometer's API gravity brought to 60 °F. The first: US Army manual text on volume conversion
// (online.documentine.com, "Appendix I volume conversion ASTM/API/IP table 5A/B"); it comes out only with the
// correction for glass. The others: US Army Quartermaster subcourse QM5203, p. 1-9
// (armyquartermaster.tpub.com/qm5203).
func TestTheArmysGravitiesComeOutOfTable5B(t *testing.T) {
	p := Procedure{Edition: Edition1980, Base: Base60F, Hydrometer: true}
	for _, tt := range []struct{ observed, tF, want float64 }{
		{40.5, 83.0, 38.7}, {32, 78, 30.7}, {46, 48, 47.1}, {52, 60, 52.0}, {66, 50, 67.4},
	} {
		c := made(t)(p.Observed(APIGravity(tt.observed).Density60(Edition1980), units.Fahrenheit(tt.tF), 0))
		near(t, fmt.Sprint(tt.observed, " °API at ", tt.tF, " °F"), math.Round(float64(c.APIGravity())*10)/10, tt.want, 1e-9)
	}
	bare := made(t)(Procedure{Edition: Edition1980, Base: Base60F}.Observed(APIGravity(40.5).Density60(Edition1980), units.Fahrenheit(83), 0))
	near(t, "without the correction for glass", math.Round(float64(bare.APIGravity())*10)/10, 38.6, 1e-9)

	// The Army's next step: the gravity for a factor to the nearest 0.5 °API, 38.7 to 38.5 (same manual text).
	p.Rounded = true
	c := made(t)(p.Observed(APIGravity(40.5).Density60(Edition1980), units.Fahrenheit(83), 0))
	near(t, "rounded", float64(c.APIGravity()), 38.7, 1e-9)
	entered := made(t)(Procedure{Edition: Edition1980, Base: Base60F, Rounded: true}.AtBase(APIGravity(38.5).Density60(Edition1980)))
	if a, b := vcf(t, c, units.Fahrenheit(83)), vcf(t, entered, units.Fahrenheit(83)); a != b {
		t.Errorf("the factor of 38.7 °API is %v, that of 38.5 °API %v", a, b)
	}
}

// Look-ups in tables of 1980 as shown in a surveyors' spreadsheet (scribd.com/document/192833803, read as a passage of
// its text): crude oil to 60 °F and to 15 °C, products, special applications.
func TestASurveyorsSheetComesOutToItsLastDigit(t *testing.T) {
	customary := func(g Group) Procedure { return Procedure{Edition: Edition1980, Group: g, Base: Base60F} }
	observed := func(p Procedure) Procedure { p.Hydrometer = true; return p }
	special := func(alpha60 float64) Procedure {
		return Procedure{Edition: Edition1980, Group: Special, Base: Base60F, Alpha60: alpha60}
	}
	api := func(g APIGravity) units.KgPerM3 { return g.Density60(Edition1980) }
	relative := func(r RelativeDensity) units.KgPerM3 { return r.Density60(Edition1980) }
	metric := Procedure{Edition: Edition1980}
	crude := Procedure{Edition: Edition1980, Group: Crude}
	f := units.Fahrenheit

	factors := []struct {
		table   string
		p       Procedure
		density units.KgPerM3
		at      units.Celsius
		want    float64
		last    float64 // one unit of the last printed decimal
	}{
		{"6A", customary(Crude), api(93.5), f(92), 0.97213, 1e-5},
		{"6B", customary(Refined), api(63), f(75), 0.9895, 1e-4},
		{"6C", special(910e-6), 800, f(30), 1.0271, 1e-4},
		{"24A", customary(Crude), relative(1.076), f(225), 0.95065, 1e-5},
		{"24B", customary(Refined), relative(0.67), f(195.5), 0.88975, 1e-5},
		{"24C", special(650e-6), 800, f(30), 1.0194, 1e-4},
		{"54A", crude, 1050, 55, 0.97758, 1e-5},
	}
	for _, tt := range factors {
		near(t, "Table "+tt.table, vcf(t, made(t)(tt.p.AtBase(tt.density)), tt.at), tt.want, 0.51*tt.last)
	}

	at60 := func(p Procedure, density units.KgPerM3, at units.Celsius) Corrector {
		return made(t)(observed(p).Observed(density, at, 0))
	}
	near(t, "Table 5A", float64(at60(customary(Crude), api(8.5), f(210)).APIGravity()), 2.28, 0.0051)
	near(t, "Table 5B", float64(at60(customary(Refined), api(10.5), f(135)).APIGravity()), 6.74, 0.0051)
	near(t, "Table 23A", float64(at60(customary(Crude), relative(0.65), f(60)).RelativeDensity()), 0.65, 1e-9)
	near(t, "Table 23B", float64(at60(customary(Refined), relative(1.0430), f(0)).RelativeDensity()), 1.02160, 0.51e-5)
	near(t, "Table 53A", float64(at60(crude, 779.0, 25).Density15()), 786.65, 0.0051)
	near(t, "Table 53B", float64(at60(metric, 1008.0, 4.5).Density15()), 1001.19, 0.0051)
}

// Table 53B as quoted beside a rule of thumb (rjpatelioc-petroleum.blogspot.com, 2016-12 and 2017-01, read as passages):
// the reading of a hydrometer in gasoline. A fourth, 737 kg/m³ at 20 °C, is quoted as 741.4 where 741.453 comes
// out: left out, since the quotation may have been rounded down.
func TestPrintedLookUpsIn53BAgreeAtOneDecimal(t *testing.T) {
	p := Procedure{Edition: Edition1980, Hydrometer: true}
	for _, tt := range []struct {
		observed units.KgPerM3
		at       units.Celsius
		want     float64
	}{{727, 30, 740.4}, {747, 18, 749.7}, {756, 10, 751.6}} {
		p.Rounded = false
		c := made(t)(p.Observed(tt.observed, tt.at, 0))
		near(t, fmt.Sprint(tt.observed, " at ", tt.at), math.Round(float64(c.Density15())*10)/10, tt.want, 1e-9)
		p.Rounded = true
		near(t, "rounded", float64(made(t)(p.Observed(tt.observed, tt.at, 0)).Density15()), tt.want, 1e-9)
	}
}

// Computed with a separate implementation, 2 decimals: Table 53B.
func TestHydrometerReadingsComeTo15(t *testing.T) {
	for _, tt := range []struct {
		observed units.KgPerM3
		at       units.Celsius
		want     float64
	}{
		{820, 30, 830.49}, {830, 25, 836.93}, {834, 32, 845.74}, {840, 20, 843.45}, {850, 5, 843.13},
		{860, -10, 842.90}, {870, -20, 846.16},
	} {
		c := made(t)(Procedure{Edition: Edition1980, Hydrometer: true}.Observed(tt.observed, tt.at, 0))
		near(t, "density at 15 °C", float64(c.Density15()), tt.want, 0.0051)
	}
}

func TestAHydrometerReadsRightAtItsBase(t *testing.T) {
	for _, b := range []Base{Base15C, Base20C, Base60F} {
		near(t, string(b), figure(t)(HydrometerFactor(b.Temperature(), b)), 1, 1e-15)
		if warm := figure(t)(HydrometerFactor(40, b)); !(warm < 1 && warm > 0.999) {
			t.Errorf("%s at 40 °C: %v", b, warm)
		}
	}
	if _, err := HydrometerFactor(200, Base15C); err == nil {
		t.Error("200 °C is taken")
	}
	if _, err := HydrometerFactor(20, "0C"); err == nil {
		t.Error("a base of 0 °C is taken")
	}
}
