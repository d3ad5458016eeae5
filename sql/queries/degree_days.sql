-- What the degree days of a climate group must have in common. In the order of their first days, one that shares a day
-- with another or is of another base shows beside its neighbour.

-- name: DegreeDaysTwice
-- The first and the second key of neighbours in force that share a day, in order of writing of the later one.
SELECT n.one, n.other
FROM (
    SELECT lag(r.key) OVER line AS one, r.key AS other, r.first_day, r.position,
        lag(r.last_day) OVER line AS last_day, lag(r.position) OVER line AS before
    FROM degree_days AS r
    WHERE NOT r.void
      AND NOT EXISTS (SELECT 1 FROM degree_days AS later WHERE later.replaces = r.key)
    WINDOW line AS (PARTITION BY r.climate_group ORDER BY r.first_day, r.last_day, r.key)
) AS n
WHERE n.last_day >= n.first_day
ORDER BY CASE WHEN n.before > n.position THEN n.before ELSE n.position END;

-- name: DegreeDaysOfOtherBase
-- The first and the second key of neighbours in force that are of several bases, in order of writing of the later one.
-- Parameter: how far one base may be rounded, in °C.
SELECT n.one, n.other
FROM (
    SELECT lag(r.key) OVER line AS one, r.key AS other, r.base_c, r.position,
        lag(r.base_c) OVER line AS base, lag(r.position) OVER line AS before
    FROM degree_days AS r
    WHERE NOT r.void
      AND NOT EXISTS (SELECT 1 FROM degree_days AS later WHERE later.replaces = r.key)
    WINDOW line AS (PARTITION BY r.climate_group ORDER BY r.first_day, r.last_day, r.key)
) AS n
WHERE abs(n.base_c - n.base) > $1
ORDER BY CASE WHEN n.before > n.position THEN n.before ELSE n.position END;
