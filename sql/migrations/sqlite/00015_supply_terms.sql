-- What a plan of deliveries needs to know: terms of routes, last days of delivery, limits on lots by the day and on what
-- may be ordered, the cost of holding fuel, and reserves in months or as a percentage.

-- +goose Up
CREATE TABLE window_limits (
    key         TEXT NOT NULL PRIMARY KEY,
    replaces    TEXT REFERENCES window_limits (key) DEFERRABLE INITIALLY DEFERRED,
    void        INTEGER NOT NULL CHECK (void IN (0, 1)),
    who         TEXT NOT NULL,
    why         TEXT NOT NULL,
    route       TEXT NOT NULL,
    name        TEXT NOT NULL,
    from_day    TEXT NOT NULL,
    until_day   TEXT NOT NULL,
    lot_max_l15 REAL NOT NULL,
    cause       TEXT NOT NULL,
    note        TEXT NOT NULL,
    digest      TEXT NOT NULL,
    recorded_ms INTEGER NOT NULL,
    position    INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX window_limits_replaces ON window_limits (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX window_limits_identity ON window_limits (route, name, from_day, cause);
CREATE UNIQUE INDEX window_limits_position ON window_limits (position);
CREATE TRIGGER window_limits_no_update BEFORE UPDATE ON window_limits BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;
CREATE TRIGGER window_limits_no_delete BEFORE DELETE ON window_limits BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TABLE spending_limits (
    key         TEXT NOT NULL PRIMARY KEY,
    replaces    TEXT REFERENCES spending_limits (key) DEFERRABLE INITIALLY DEFERRED,
    void        INTEGER NOT NULL CHECK (void IN (0, 1)),
    who         TEXT NOT NULL,
    why         TEXT NOT NULL,
    plant       TEXT NOT NULL,
    name        TEXT NOT NULL,
    kind        TEXT NOT NULL,
    from_day    TEXT NOT NULL,
    until_day   TEXT NOT NULL,
    amount      REAL,
    currency    TEXT NOT NULL,
    volume_l15  REAL,
    digest      TEXT NOT NULL,
    recorded_ms INTEGER NOT NULL,
    position    INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX spending_limits_replaces ON spending_limits (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX spending_limits_identity ON spending_limits (plant, name, from_day);
CREATE UNIQUE INDEX spending_limits_position ON spending_limits (position);
CREATE TRIGGER spending_limits_no_update BEFORE UPDATE ON spending_limits BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;
CREATE TRIGGER spending_limits_no_delete BEFORE DELETE ON spending_limits BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

ALTER TABLE routes ADD COLUMN load_l15 REAL NOT NULL DEFAULT 0;
ALTER TABLE routes ADD COLUMN stop_cost REAL NOT NULL DEFAULT 0;
ALTER TABLE routes ADD COLUMN freight_per_l15 REAL NOT NULL DEFAULT 0;
ALTER TABLE routes ADD COLUMN price_growth_per_year REAL NOT NULL DEFAULT 0;
ALTER TABLE routes ADD COLUMN price_sd_per_year REAL NOT NULL DEFAULT 0;
ALTER TABLE routes ADD COLUMN deliveries INTEGER NOT NULL DEFAULT 0;
ALTER TABLE routes ADD COLUMN days_between INTEGER NOT NULL DEFAULT 0;
ALTER TABLE routes ADD COLUMN pay_from TEXT NOT NULL DEFAULT '';
ALTER TABLE routes ADD COLUMN pay_days INTEGER NOT NULL DEFAULT 0;
ALTER TABLE windows ADD COLUMN cut_off TEXT;
ALTER TABLE plants ADD COLUMN reserve_months REAL;
ALTER TABLE plants ADD COLUMN reserve_percent REAL;
ALTER TABLE plants ADD COLUMN carrying_per_year REAL;
ALTER TABLE plants ADD COLUMN fallback_at_days INTEGER;

CREATE VIEW window_limits_in_force AS
SELECT r.route, r.name AS window_name, r.from_day, r.until_day, r.lot_max_l15, r.cause, r.note, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM window_limits AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM window_limits AS later WHERE later.replaces = r.key);

CREATE VIEW spending_limits_in_force AS
SELECT r.plant, p.name AS plant_name, r.name AS limit_name, r.kind, r.from_day, r.until_day,
    r.amount, r.currency, r.volume_l15, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM spending_limits AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM spending_limits AS later WHERE later.replaces = r.key);

CREATE VIEW plant_rules_in_force AS
SELECT p.plant, p.name AS plant_name, q.reserve_l15, q.reserve_days, q.reserve_months, q.reserve_percent,
    q.risk_target, q.fallback_at_days, q.carrying_per_year, p.key, p.who, p.why, p.recorded
FROM plants_in_force AS p
JOIN plants AS q ON q.key = p.key;

DROP VIEW routes_in_force;
CREATE VIEW routes_in_force AS
SELECT r.id AS route, r.mode, r.supplier, r.fallback, r.lead_days, r.lead_sd_days, r.slip_days, r.slip_sd_days,
    r.lot_min_l15, r.lot_max_l15, r.lot_step_l15, r.price_per_l15, r.currency, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded,
    r.load_l15, r.stop_cost, r.freight_per_l15, r.price_growth_per_year, r.price_sd_per_year,
    nullif(r.deliveries, 0) AS deliveries, r.days_between, r.pay_from, r.pay_days
FROM routes AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM routes AS later WHERE later.replaces = r.key);

DROP VIEW windows_in_force;
CREATE VIEW windows_in_force AS
SELECT r.route, r.name AS window_name, nullif(r.year, 0) AS year, r.opens, r.opens_sd_days, r.closes,
    r.closes_sd_days, r.fail_chance, r.order_by, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded,
    r.opens_lag_days, r.opens_lag_sd_days, r.closes_lag_days, r.closes_lag_sd_days, r.cut_off
FROM windows AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM windows AS later WHERE later.replaces = r.key);

-- +goose Down
DROP VIEW windows_in_force;
DROP VIEW routes_in_force;
DROP VIEW plant_rules_in_force;
DROP VIEW spending_limits_in_force;
DROP VIEW window_limits_in_force;
ALTER TABLE plants DROP COLUMN fallback_at_days;
ALTER TABLE plants DROP COLUMN carrying_per_year;
ALTER TABLE plants DROP COLUMN reserve_percent;
ALTER TABLE plants DROP COLUMN reserve_months;
ALTER TABLE windows DROP COLUMN cut_off;
ALTER TABLE routes DROP COLUMN pay_days;
ALTER TABLE routes DROP COLUMN pay_from;
ALTER TABLE routes DROP COLUMN days_between;
ALTER TABLE routes DROP COLUMN deliveries;
ALTER TABLE routes DROP COLUMN price_sd_per_year;
ALTER TABLE routes DROP COLUMN price_growth_per_year;
ALTER TABLE routes DROP COLUMN freight_per_l15;
ALTER TABLE routes DROP COLUMN stop_cost;
ALTER TABLE routes DROP COLUMN load_l15;
DROP TABLE spending_limits;
DROP TABLE window_limits;

CREATE VIEW routes_in_force AS
SELECT r.id AS route, r.mode, r.supplier, r.fallback, r.lead_days, r.lead_sd_days, r.slip_days, r.slip_sd_days,
    r.lot_min_l15, r.lot_max_l15, r.lot_step_l15, r.price_per_l15, r.currency, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM routes AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM routes AS later WHERE later.replaces = r.key);

CREATE VIEW windows_in_force AS
SELECT r.route, r.name AS window_name, nullif(r.year, 0) AS year, r.opens, r.opens_sd_days, r.closes,
    r.closes_sd_days, r.fail_chance, r.order_by, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded,
    r.opens_lag_days, r.opens_lag_sd_days, r.closes_lag_days, r.closes_lag_sd_days
FROM windows AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM windows AS later WHERE later.replaces = r.key);
