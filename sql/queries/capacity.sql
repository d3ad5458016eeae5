-- The capacity tables of tanks. A point belongs to one ledger row of a tank: a correction of the tank
-- brings its own points.

-- name: InsertCapacityPoint
INSERT INTO capacity_points (tank_key, point, depth_mm, volume_l)
VALUES ($1, $2, $3, $4);

-- name: CapacityPoints
-- The points of the tanks in force, in order of the tank's key, then of the point in its table. Parameter:
-- last position.
SELECT p.tank_key, p.depth_mm, p.volume_l
FROM capacity_points AS p
JOIN tanks AS r ON r.key = p.tank_key
WHERE NOT r.void
  AND r.position <= $1
  AND NOT EXISTS (SELECT 1 FROM tanks AS later WHERE later.replaces = r.key AND later.position <= $1)
ORDER BY p.tank_key, p.point;
