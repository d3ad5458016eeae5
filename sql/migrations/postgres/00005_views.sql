-- Views for a person who opens the database: the rows in force, the names of plants beside their ids,
-- times as instants and by the clock at the plant (at_plant), units in the names of columns.
-- Nothing in the program reads them.

-- +goose Up
-- +goose StatementBegin
CREATE FUNCTION ledger_instant(ms bigint) RETURNS timestamptz LANGUAGE sql IMMUTABLE AS $$
    SELECT to_timestamp(ms / 1000.0)
$$;
-- +goose StatementEnd

-- A day before the year 1 is NULL: the engine knows none.
-- +goose StatementBegin
CREATE FUNCTION ledger_day(iso text) RETURNS date LANGUAGE sql STABLE AS $$
    SELECT CASE WHEN iso >= '0001' COLLATE "C" THEN CAST(iso AS date) END
$$;
-- +goose StatementEnd

-- The clock at a plant, NULL where the engine does not know the zone: its list may be older than ours.
-- +goose StatementBegin
CREATE FUNCTION plant_clock(ms bigint, zone text) RETURNS timestamp LANGUAGE plpgsql STABLE AS $$
BEGIN
    RETURN to_timestamp(ms / 1000.0) AT TIME ZONE zone;
EXCEPTION WHEN invalid_parameter_value THEN
    RETURN NULL;
END
$$;
-- +goose StatementEnd

CREATE VIEW plants_in_force AS
SELECT r.id AS plant, r.name, r.climate_group, r.zone, r.product, r.density15_kgm3, r.reserve_l15,
    r.reserve_days, r.risk_target, r.assumed_temperature_c, r.warm_to_c,
    r.fiscal_year_begins AS fiscal_year_begins_month, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
FROM plants AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM plants AS later WHERE later.replaces = r.key);

CREATE VIEW routes_in_force AS
SELECT r.id AS route, r.mode, r.supplier, r.fallback, r.lead_days, r.lead_sd_days, r.slip_days, r.slip_sd_days,
    r.lot_min_l15, r.lot_max_l15, r.lot_step_l15, r.price_per_l15, r.currency, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
FROM routes AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM routes AS later WHERE later.replaces = r.key);

CREATE VIEW services_in_force AS
SELECT r.plant, p.name AS plant_name, r.route, r.key, r.who, r.why, ledger_instant(r.recorded_ms) AS recorded
FROM services AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM services AS later WHERE later.replaces = r.key);

CREATE VIEW windows_in_force AS
SELECT r.route, r.name AS window_name, nullif(r.year, 0) AS year, r.opens, r.opens_sd_days, r.closes,
    r.closes_sd_days, r.fail_chance, r.order_by, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
FROM windows AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM windows AS later WHERE later.replaces = r.key);

CREATE VIEW tanks_in_force AS
SELECT r.plant, p.name AS plant_name, r.id AS tank, r.role, r.product, r.shape, r.diameter_mm, r.length_mm,
    r.width_mm, r.height_mm, r.capacity_l, r.safe_fill_depth_mm, r.safe_fill_l, r.suction_depth_mm,
    r.unusable_l, ledger_day(r.out_from) AS out_from, ledger_day(r.back_on) AS back_on, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
FROM tanks AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM tanks AS later WHERE later.replaces = r.key);

CREATE VIEW meters_in_force AS
SELECT r.plant, p.name AS plant_name, r.id AS meter, r.digits, r.litres_per_count, r.factor, r.compensated,
    r.key, r.who, r.why, ledger_instant(r.recorded_ms) AS recorded
FROM meters AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM meters AS later WHERE later.replaces = r.key);

CREATE VIEW meter_readings_in_force AS
SELECT r.plant, p.name AS plant_name, r.meter, ledger_instant(r.at_ms) AS at,
    plant_clock(r.at_ms, p.zone) AS at_plant, r.register AS register_counts, m.litres_per_count,
    r.temperature_c, r.key, r.who, r.why, ledger_instant(r.recorded_ms) AS recorded
FROM meter_readings AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
LEFT JOIN meters_in_force AS m ON m.plant = r.plant AND m.meter = r.meter
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM meter_readings AS later WHERE later.replaces = r.key);

CREATE VIEW meter_swaps_in_force AS
SELECT r.plant, p.name AS plant_name, r.meter, ledger_instant(r.at_ms) AS at,
    plant_clock(r.at_ms, p.zone) AS at_plant, r.closing AS closing_counts, r.opening AS opening_counts,
    m.litres_per_count, r.key, r.who, r.why, ledger_instant(r.recorded_ms) AS recorded
FROM meter_swaps AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
LEFT JOIN meters_in_force AS m ON m.plant = r.plant AND m.meter = r.meter
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM meter_swaps AS later WHERE later.replaces = r.key);

CREATE VIEW gaugings_in_force AS
SELECT r.plant, p.name AS plant_name, r.tank, t.role AS tank_role, ledger_instant(r.at_ms) AS at,
    plant_clock(r.at_ms, p.zone) AS at_plant, r.depth_mm, r.water_mm, r.volume_l, r.temperature_c,
    r.precision_mm, r.key, r.who, r.why, ledger_instant(r.recorded_ms) AS recorded
FROM gaugings AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
LEFT JOIN tanks_in_force AS t ON t.plant = r.plant AND t.tank = r.tank
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM gaugings AS later WHERE later.replaces = r.key);

CREATE VIEW period_totals_in_force AS
SELECT r.plant, p.name AS plant_name, ledger_day(r.first_day) AS first_day, ledger_day(r.last_day) AS last_day,
    r.volume_l, r.temperature_c, r.basis, r.key, r.who, r.why, ledger_instant(r.recorded_ms) AS recorded
FROM period_totals AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM period_totals AS later WHERE later.replaces = r.key);

CREATE VIEW deliveries_in_force AS
SELECT r.plant, p.name AS plant_name, r.tank, ledger_instant(r.at_ms) AS at,
    plant_clock(r.at_ms, p.zone) AS at_plant, r.volume_l, r.temperature_c, r.basis, r.order_id, r.document,
    r.key, r.who, r.why, ledger_instant(r.recorded_ms) AS recorded
FROM deliveries AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM deliveries AS later WHERE later.replaces = r.key);

CREATE VIEW transfers_in_force AS
SELECT r.plant, p.name AS plant_name, r.from_tank, r.to_tank, ledger_instant(r.at_ms) AS at,
    plant_clock(r.at_ms, p.zone) AS at_plant, r.volume_l, r.temperature_c, r.basis, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
FROM transfers AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM transfers AS later WHERE later.replaces = r.key);

CREATE VIEW draws_in_force AS
SELECT r.plant, p.name AS plant_name, ledger_day(r.first_day) AS first_day, ledger_day(r.last_day) AS last_day,
    r.purpose, r.volume_l, r.temperature_c, r.basis, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
FROM draws AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM draws AS later WHERE later.replaces = r.key);

CREATE VIEW orders_in_force AS
SELECT r.plant, p.name AS plant_name, r.id AS order_id, r.route, r.state,
    ledger_day(r.ordered_on) AS ordered_on, ledger_day(r.early) AS early, ledger_day(r.likely) AS likely,
    ledger_day(r.late) AS late, r.volume_l, r.temperature_c, r.basis, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
FROM orders AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM orders AS later WHERE later.replaces = r.key);

-- The advice in force; a seed is the unsigned one of the same 64 bits.
CREATE VIEW advice_in_force AS
SELECT c.plant,
    p.name AS plant_name,
    c.seed,
    ledger_day(c.as_of) AS as_of,
    j.body ->> 'status' AS status,
    j.body ->> 'quality' AS quality,
    CAST(j.body -> 'stock' ->> 'usable_l15' AS double precision) AS usable_stock_l15,
    CAST(j.body -> 'stock' ->> 'sigma_l15' AS double precision) AS usable_stock_sigma_l15,
    CAST(j.body -> 'burn' ->> 'next_30_days_l15_per_day' AS double precision) AS burn_l15_per_day,
    CAST(j.body ->> 'days_of_cover_to_reserve' AS bigint) AS days_of_cover_to_reserve,
    CAST(j.body ->> 'days_of_cover_to_empty' AS bigint) AS days_of_cover_to_empty,
    CAST(j.body -> 'reserve' ->> 'litres_l15' AS double precision) AS reserve_l15,
    ledger_day(j.body -> 'reserve_date' ->> 'p50') AS reserve_date_p50,
    ledger_day(j.body -> 'dry_date' ->> 'p50') AS dry_date_p50,
    ledger_day(j.body ->> 'must_last_until') AS must_last_until,
    ledger_day(j.body -> 'order' ->> 'order_by') AS order_by,
    j.body -> 'order' ->> 'route' AS route,
    j.body -> 'order' ->> 'window' AS window_name,
    CAST(j.body -> 'order' ->> 'lot_l15' AS double precision) AS lot_l15,
    CAST(j.body -> 'short' ->> 'litres_l15' AS double precision) AS short_l15,
    ledger_day(j.body -> 'short' ->> 'from') AS short_from,
    c.model_version,
    c.inputs_version,
    ledger_instant(c.issued_ms) AS issued,
    plant_clock(c.issued_ms, p.zone) AS issued_plant,
    c.revision
FROM current_advice AS c
JOIN advice AS a ON a.plant = c.plant AND a.as_of = c.as_of AND a.model_version = c.model_version
    AND a.inputs_version = c.inputs_version AND a.seed = c.seed
CROSS JOIN LATERAL (SELECT CAST(a.body AS jsonb) AS body) AS j
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
DROP FUNCTION plant_clock(bigint, text);
DROP FUNCTION ledger_day(text);
DROP FUNCTION ledger_instant(bigint);
