package advice

import (
	"fmt"
	"math"

	"overwinter/internal/inventory"
	"overwinter/internal/resupply"
)

// reserveOf gives the reserve that a plant is planned by. Months are whole days of the coming outflow.
func reserveOf(p *inventory.Plant) resupply.Reserve {
	switch {
	case p.ReserveLitres != nil:
		return resupply.Reserve{Litres: float64(*p.ReserveLitres)}
	case p.ReserveDays != nil:
		return resupply.Reserve{Days: *p.ReserveDays}
	case p.ReserveMonths != nil:
		return resupply.Reserve{Days: int(math.Round(*p.ReserveMonths * inventory.DaysPerMonth))}
	case p.ReservePercent != nil:
		return resupply.Reserve{Share: *p.ReservePercent / 100}
	}
	return resupply.Reserve{Days: inventory.DefaultReserveDays}
}

// fallbackAt gives the stock at which a plant buys from a fallback.
func fallbackAt(p *inventory.Plant) resupply.Reserve {
	if p.FallbackAtDays != nil {
		return resupply.Reserve{Days: *p.FallbackAtDays}
	}
	return reserveOf(p)
}

// reserveText says the reserve as it is reckoned with.
func reserveText(p *inventory.Plant) string {
	r := reserveOf(p)
	switch {
	case r.Days > 0 && p.ReserveMonths != nil && p.ReserveDays == nil:
		return fmt.Sprintf("%.3g months of 365.25/12 days, %d days, at the coming burn and draws", *p.ReserveMonths, r.Days)
	case r.Days > 0:
		return fmt.Sprintf("%d days at the coming burn and draws", r.Days)
	case r.Share > 0:
		return fmt.Sprintf("%.3g %% of what the tanks in service can give when full", *p.ReservePercent)
	}
	return fmt.Sprintf("%.0f L at 15 °C", r.Litres)
}
