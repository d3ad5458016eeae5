-- The fill band and the low-level float of day tanks, and how long engines may run once the float has tripped.

-- +goose Up
ALTER TABLE tanks ADD COLUMN fill_start_l REAL;
ALTER TABLE tanks ADD COLUMN fill_stop_l REAL;
ALTER TABLE tanks ADD COLUMN low_level_l REAL;
ALTER TABLE tanks ADD COLUMN fill_minutes REAL;
ALTER TABLE plants ADD COLUMN low_level_timer_hours REAL;

CREATE VIEW day_tanks_in_force AS
SELECT r.plant, p.name AS plant_name, r.id AS tank, r.fill_start_l, r.fill_stop_l, r.low_level_l, r.fill_minutes,
    q.low_level_timer_hours, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM tanks AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
LEFT JOIN plants AS q ON q.key = p.key
WHERE r.role = 'day' AND NOT r.void AND NOT EXISTS (SELECT 1 FROM tanks AS later WHERE later.replaces = r.key);

-- +goose Down
DROP VIEW day_tanks_in_force;
ALTER TABLE plants DROP COLUMN low_level_timer_hours;
ALTER TABLE tanks DROP COLUMN fill_minutes;
ALTER TABLE tanks DROP COLUMN low_level_l;
ALTER TABLE tanks DROP COLUMN fill_stop_l;
ALTER TABLE tanks DROP COLUMN fill_start_l;
