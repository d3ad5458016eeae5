package bookstest

// Seeds are questions to begin with.
func Seeds() []Question {
	all := []Question{
		{},
		{From: "2026-03-01", To: "2026-03-31"},
		{From: "2026-03-02", To: "2026-03-01"},
		{Plant: Plant(2), From: "2025-04-25", To: "2025-10-31"}, // Cairo put its clocks forward over the beginning of the first day
		{Plant: Plant(3), From: "2021-10-29", To: "2021-10-29"}, // Amman's clocks showed the midnight twice
		{Plant: Plant(4), From: "2024-10-27", To: "2025-03-30"},
		{Plant: Plant(5), From: "2011-12-30", To: "2011-12-31"}, // Apia had no 30 December
		{From: "2026-03-01T06:00:00+02:00", To: "2026-03-29T08:00:00.001Z"},
		{From: "2026-03-01T6:00:00Z"},
		{From: "2026-03-01T06:00:00,5Z"},
		{From: "2026-03-01T06:00:00+24:00"},
		{To: "2026-02-29"},
		{To: "2026-04-01"},
		{To: "0000-01-01"},
		{From: "0000-01-01"},
		{From: "0000-01-01T00:00:00+14:00"},
		{From: "1899-12-31"}, {From: "1900-01-01"},
		{KnownAt: "2026-03-29T12:00:00Z"},
		{KnownAt: "2026-03-30T12:00:00.999999999-09:00", To: "2026-03-30"},
		{KnownAt: "2026-03-29T11:59:59Z"},
		{KnownAt: "2026-03-30"},
		{KnownAt: "2026-04-01T00:00:00Z"},
		{Product: other}, {Product: own}, {Product: "jet-a1"},
		{From: " 2026-03-01", To: "2026-03-02 "},
	}
	for i := range all {
		if all[i].Plant == "" {
			all[i].Plant = Plant(0)
		}
	}
	return all
}
