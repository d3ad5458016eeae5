package jobs

import "sync"

// looks are what the looks of each minute have seen of the ledger. A report refreshes its plant by itself,
// here or in another instance; so a row counts only once it was there at a look and is still in no advice
// at the next.
type looks struct {
	mu     sync.Mutex
	before int64 // the version of the ledger at the look before the last
	last   int64 // and at the last
	looked int64 // up to which version a run has seen to all plants
	again  bool  // the ledger could not be reached since
}

// saw notes the version at a look, and tells whether a run is due.
func (l *looks) saw(version int64) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.before, l.last = l.last, version
	return l.again || l.before > l.looked
}

// settled is the version up to which rows should be in the advice by now.
func (l *looks) settled() int64 {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.before
}

// done notes that a run has seen to all plants up to a version.
func (l *looks) done(version int64) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.looked, l.again = max(l.looked, version), false
}

// repeat asks for a run at the next look at which the ledger answers.
func (l *looks) repeat() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.again = true
}

// look is the look of a minute.
func (j *Jobs) look() {
	version, err := j.ledger.Version(j.ctx)
	if err != nil {
		j.log.Debug("the ledger cannot be looked into", "error", err)
		j.looks.repeat()
		return
	}
	if j.looks.saw(version) && !j.going.Load() {
		j.job.Run()
	}
}
