-- Views for a person who opens the database: the rows in force, the names of plants beside their ids,
-- times as text in UTC, units in the names of columns.
-- Nothing in the program reads them.

-- +goose Up
CREATE VIEW plants_in_force AS
SELECT r.id AS plant, r.name, r.climate_group, r.zone, r.product, r.density15_kgm3, r.reserve_l15,
    r.reserve_days, r.risk_target, r.assumed_temperature_c, r.warm_to_c,
    r.fiscal_year_begins AS fiscal_year_begins_month, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM plants AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM plants AS later WHERE later.replaces = r.key);

CREATE VIEW routes_in_force AS
SELECT r.id AS route, r.mode, r.supplier, r.fallback, r.lead_days, r.lead_sd_days, r.slip_days, r.slip_sd_days,
    r.lot_min_l15, r.lot_max_l15, r.lot_step_l15, r.price_per_l15, r.currency, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM routes AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM routes AS later WHERE later.replaces = r.key);

CREATE VIEW services_in_force AS
SELECT r.plant, p.name AS plant_name, r.route, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM services AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM services AS later WHERE later.replaces = r.key);

CREATE VIEW windows_in_force AS
SELECT r.route, r.name AS window_name, nullif(r.year, 0) AS year, r.opens, r.opens_sd_days, r.closes,
    r.closes_sd_days, r.fail_chance, r.order_by, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM windows AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM windows AS later WHERE later.replaces = r.key);

CREATE VIEW tanks_in_force AS
SELECT r.plant, p.name AS plant_name, r.id AS tank, r.role, r.product, r.shape, r.diameter_mm, r.length_mm,
    r.width_mm, r.height_mm, r.capacity_l, r.safe_fill_depth_mm, r.safe_fill_l, r.suction_depth_mm,
    r.unusable_l, r.out_from, r.back_on, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM tanks AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM tanks AS later WHERE later.replaces = r.key);

CREATE VIEW meters_in_force AS
SELECT r.plant, p.name AS plant_name, r.id AS meter, r.digits, r.litres_per_count, r.factor, r.compensated,
    r.key, r.who, r.why, strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM meters AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM meters AS later WHERE later.replaces = r.key);

CREATE VIEW meter_readings_in_force AS
SELECT r.plant, p.name AS plant_name, r.meter,
    strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.register AS register_counts,
    m.litres_per_count, r.temperature_c, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM meter_readings AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
LEFT JOIN meters_in_force AS m ON m.plant = r.plant AND m.meter = r.meter
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM meter_readings AS later WHERE later.replaces = r.key);

CREATE VIEW meter_swaps_in_force AS
SELECT r.plant, p.name AS plant_name, r.meter,
    strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.closing AS closing_counts,
    r.opening AS opening_counts, m.litres_per_count, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM meter_swaps AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
LEFT JOIN meters_in_force AS m ON m.plant = r.plant AND m.meter = r.meter
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM meter_swaps AS later WHERE later.replaces = r.key);

CREATE VIEW gaugings_in_force AS
SELECT r.plant, p.name AS plant_name, r.tank, t.role AS tank_role,
    strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.depth_mm, r.water_mm, r.volume_l,
    r.temperature_c, r.precision_mm, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM gaugings AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
LEFT JOIN tanks_in_force AS t ON t.plant = r.plant AND t.tank = r.tank
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM gaugings AS later WHERE later.replaces = r.key);

CREATE VIEW period_totals_in_force AS
SELECT r.plant, p.name AS plant_name, r.first_day, r.last_day, r.volume_l, r.temperature_c, r.basis, r.key,
    r.who, r.why, strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM period_totals AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM period_totals AS later WHERE later.replaces = r.key);

CREATE VIEW deliveries_in_force AS
SELECT r.plant, p.name AS plant_name, r.tank,
    strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.volume_l, r.temperature_c,
    r.basis, r.order_id, r.document, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM deliveries AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM deliveries AS later WHERE later.replaces = r.key);

CREATE VIEW transfers_in_force AS
SELECT r.plant, p.name AS plant_name, r.from_tank, r.to_tank,
    strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.volume_l, r.temperature_c,
    r.basis, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM transfers AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM transfers AS later WHERE later.replaces = r.key);

CREATE VIEW draws_in_force AS
SELECT r.plant, p.name AS plant_name, r.first_day, r.last_day, r.purpose, r.volume_l, r.temperature_c, r.basis,
    r.key, r.who, r.why, strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM draws AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM draws AS later WHERE later.replaces = r.key);

CREATE VIEW orders_in_force AS
SELECT r.plant, p.name AS plant_name, r.id AS order_id, r.route, r.state, r.ordered_on, r.early, r.likely,
    r.late, r.volume_l, r.temperature_c, r.basis, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM orders AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM orders AS later WHERE later.replaces = r.key);

-- The advice in force; a seed is the unsigned one of the same 64 bits.
CREATE VIEW advice_in_force AS
SELECT c.plant,
    p.name AS plant_name,
    c.seed,
    c.as_of,
    json_extract(a.body, '$.status') AS status,
    json_extract(a.body, '$.quality') AS quality,
    json_extract(a.body, '$.stock.usable_l15') AS usable_stock_l15,
    json_extract(a.body, '$.stock.sigma_l15') AS usable_stock_sigma_l15,
    json_extract(a.body, '$.burn.next_30_days_l15_per_day') AS burn_l15_per_day,
    json_extract(a.body, '$.days_of_cover_to_reserve') AS days_of_cover_to_reserve,
    json_extract(a.body, '$.days_of_cover_to_empty') AS days_of_cover_to_empty,
    json_extract(a.body, '$.reserve.litres_l15') AS reserve_l15,
    json_extract(a.body, '$.reserve_date.p50') AS reserve_date_p50,
    json_extract(a.body, '$.dry_date.p50') AS dry_date_p50,
    json_extract(a.body, '$.must_last_until') AS must_last_until,
    json_extract(a.body, '$.order.order_by') AS order_by,
    json_extract(a.body, '$.order.route') AS route,
    json_extract(a.body, '$.order.window') AS window_name,
    json_extract(a.body, '$.order.lot_l15') AS lot_l15,
    json_extract(a.body, '$.short.litres_l15') AS short_l15,
    json_extract(a.body, '$.short.from') AS short_from,
    c.model_version,
    c.inputs_version,
    strftime('%Y-%m-%d %H:%M:%fZ', c.issued_ms / 1000.0, 'unixepoch') AS issued,
    c.revision
FROM current_advice AS c
JOIN advice AS a ON a.plant = c.plant AND a.as_of = c.as_of AND a.model_version = c.model_version
    AND a.inputs_version = c.inputs_version AND a.seed = c.seed
LEFT JOIN plants_in_force AS p ON p.plant = c.plant
WHERE c.plant <> '';

-- +goose Down
DROP VIEW advice_in_force;
DROP VIEW orders_in_force;
DROP VIEW draws_in_force;
DROP VIEW transfers_in_force;
DROP VIEW deliveries_in_force;
DROP VIEW period_totals_in_force;
DROP VIEW gaugings_in_force;
DROP VIEW meter_swaps_in_force;
DROP VIEW meter_readings_in_force;
DROP VIEW meters_in_force;
DROP VIEW tanks_in_force;
DROP VIEW windows_in_force;
DROP VIEW services_in_force;
DROP VIEW routes_in_force;
DROP VIEW plants_in_force;
