-- What a tank was gauged with, ullages, and the height of the reference point that they are counted from.

-- +goose Up
ALTER TABLE gaugings ADD COLUMN gauge TEXT NOT NULL DEFAULT '';
ALTER TABLE gaugings ADD COLUMN ullage_mm REAL;
ALTER TABLE tanks ADD COLUMN reference_height_mm REAL;

DROP VIEW gaugings_in_force;
CREATE VIEW gaugings_in_force AS
SELECT r.plant, p.name AS plant_name, r.tank, t.role AS tank_role,
    strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.depth_mm, r.water_mm, r.volume_l,
    r.temperature_c, r.precision_mm, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded, r.moving, r.gauge, r.ullage_mm
FROM gaugings AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
LEFT JOIN tanks_in_force AS t ON t.plant = r.plant AND t.tank = r.tank
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM gaugings AS later WHERE later.replaces = r.key);

-- +goose Down
DROP VIEW gaugings_in_force;
ALTER TABLE tanks DROP COLUMN reference_height_mm;
ALTER TABLE gaugings DROP COLUMN ullage_mm;
ALTER TABLE gaugings DROP COLUMN gauge;

CREATE VIEW gaugings_in_force AS
SELECT r.plant, p.name AS plant_name, r.tank, t.role AS tank_role,
    strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.depth_mm, r.water_mm, r.volume_l,
    r.temperature_c, r.precision_mm, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM gaugings AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
LEFT JOIN tanks_in_force AS t ON t.plant = r.plant AND t.tank = r.tank
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM gaugings AS later WHERE later.replaces = r.key);
