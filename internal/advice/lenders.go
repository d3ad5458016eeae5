package advice

import (
	"sync"

	"overwinter/internal/forecast"
	"overwinter/internal/inventory"
)

// lender is what must be known of a plant to fit the others of its climate group.
type lender struct {
	made  string // identifies what it was made of, its readings apart
	read  int64  // a version of the ledger whose readings it counts in
	usage string // identifies its usage and what is told beside it
	cold  string // identifies the degree days of its climate group
	lent  *forecast.Lent
}

// lenders keeps what plants lend from one run to the next, so that one plant can be fitted anew
// without the readings of the others.
type lenders struct {
	mu    sync.Mutex
	plant map[string]lender
	fleet *forecast.Calibration // of the last run over all plants; nil before it
}

func newLenders() *lenders { return &lenders{plant: map[string]lender{}} }

func (k *lenders) calibration() *forecast.Calibration {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.fleet
}

func (k *lenders) calibrate(c forecast.Calibration) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.fleet = &c
}

// get finds a plant's lender, if it is made of the same.
func (k *lenders) get(plant, made string) (lender, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	l, ok := k.plant[plant]
	return l, ok && l.made == made
}

// put keeps a lender; of two runs at once that which counts in more of the ledger stays.
func (k *lenders) put(plant string, l lender) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if l.read >= k.plant[plant].read {
		k.plant[plant] = l
	}
}

// keep forgets all plants but these.
func (k *lenders) keep(plants []*inventory.Plant) {
	k.mu.Lock()
	defer k.mu.Unlock()
	kept := map[string]lender{}
	for _, p := range plants {
		if l, ok := k.plant[p.ID]; ok {
			kept[p.ID] = l
		}
	}
	k.plant = kept
}
