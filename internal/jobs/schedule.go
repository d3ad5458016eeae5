package jobs

import (
	"fmt"
	"time"

	"github.com/robfig/cron/v3"

	"overwinter/internal/inventory"
)

// minutely is how often it is asked whether rows came into the ledger that are in no advice.
var minutely = cron.Every(time.Minute)

// hourly is how often a run looks for what was missed. The hours count from the start of the process, so
// that the instances on one database do not all look at the same minute.
var hourly = cron.Every(time.Hour)

// daily is the time of day at which the fleet is advised in each zone. It comes once on every day: clocks
// are put forward and back before 04:00 nearly everywhere, and on the Chatham Islands up to 03:45.
const daily = "30 4 * * *"

// dailyIn is the daily time by the clocks of a zone.
func dailyIn(zone string) (cron.Schedule, error) {
	if _, err := time.LoadLocation(zone); err != nil {
		return nil, err
	}
	return cron.ParseStandard(fmt.Sprintf("CRON_TZ=%s %s", zone, daily))
}

// schedule gives each zone of the plants that has none its daily run. A zone that no plant has any more
// keeps its run, which finds everything known.
func (j *Jobs) schedule(plants []*inventory.Plant) {
	for _, p := range plants {
		if j.zones[p.Zone] {
			continue
		}
		j.zones[p.Zone] = true
		at, err := dailyIn(p.Zone)
		if err != nil {
			j.log.Error("a zone has no daily run", "plant", p.ID, "zone", p.Zone, "error", err)
			continue
		}
		j.cron.Schedule(at, onDay{j})
	}
}

// onDay is the run that begins a zone's day. It is the run of every hour, but of the whole fleet: a plant's
// season leans on its neighbours' readings, the budget adds all plants up, and rows may have come into
// the ledger by another way than this process. Where it is skipped, the next run makes up for it.
type onDay struct{ *Jobs }

// Run runs.
func (j onDay) Run() {
	j.whole.Store(true)
	j.job.Run()
}
