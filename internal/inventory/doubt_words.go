package inventory

// causeWords say what a cause is, for people.
var causeWords = map[Cause]string{
	DigitDropped:     "a digit seems to be missing",
	DigitAdded:       "a digit too many seems to be there",
	DigitsExchanged:  "two digits seem to have changed places",
	DigitMistaken:    "one digit seems to be wrong",
	OtherMeter:       "it fits another meter of the plant",
	MeterSwapped:     "the meter seems to have been changed or reset, and no swap is entered",
	GoingBackwards:   "the register goes backwards, with no rollover and no swap",
	BeyondBurn:       "that is far more than the plant burns",
	BelowBurn:        "that is far less than the plant burns",
	UnitsSwitched:    "it seems to be in another unit",
	StickMisread:     "the stick or tape seems to have been misread by a whole mark",
	TemperatureSlip:  "the temperature seems to have lost its sign, or to be in another unit",
	TanksInterchange: "it fits the other tank: the two seem to be interchanged",
	RiseUnexplained:  "the tank holds more, and nothing that came into it is entered",
	FallUnexplained:  "the tank lost far more than the plant burns",
	PeriodsInOne:     "it seems to hold more than one period, and the one before is missing",
	NotPositive:      "a plant cannot burn less than nothing; a correction after a count has a row of its own",
	NothingBurned:    "nothing was burned, though the plant burns at other times: if it stood by, confirm it",
	Duplicate:        "it is there already under another key",
	BeyondRoom:       "the tank had no room for it",
	BeyondOrder:      "it is far more than was ordered",
	BesideTheDips:    "the dips before and after say otherwise",
	DeliveryMistimed: "a dip of another day accounts for it: its time seems to be wrong",
	BeyondSource:     "the tank that it came from held less",
	EnergyPerLitre:   "energy and fuel do not go together",
}

// plural names the rows of a kind.
func plural(k Kind) string {
	if k == KindDelivery {
		return "deliveries"
	}
	return string(k) + "s"
}

// todo says what becomes of a doubtful row.
func todo(scope Scope, before string) string {
	switch scope {
	case RunBefore:
		return ". Not counted: " + before + ". Correct the row, enter what is missing, or confirm it"
	case EnergyFigure:
		return ". Its energy is not counted: correct it, or confirm the row"
	}
	return ". It is not counted: correct it, or confirm it if it is right"
}
