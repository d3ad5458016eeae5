-- What a plan of deliveries needs to know: terms of routes, last days of delivery, limits on lots by the day and on what
-- may be ordered, the cost of holding fuel, and reserves in months or as a percentage.

-- +goose Up
CREATE TABLE window_limits (
    key         text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces    text COLLATE "C" REFERENCES window_limits (key) DEFERRABLE INITIALLY DEFERRED,
    void        boolean NOT NULL,
    who         text COLLATE "C" NOT NULL,
    why         text COLLATE "C" NOT NULL,
    route       text COLLATE "C" NOT NULL,
    name        text COLLATE "C" NOT NULL,
    from_day    text COLLATE "C" NOT NULL,
    until_day   text COLLATE "C" NOT NULL,
    lot_max_l15 double precision NOT NULL,
    cause       text COLLATE "C" NOT NULL,
    note        text COLLATE "C" NOT NULL,
    digest      text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position    bigint NOT NULL
);
CREATE UNIQUE INDEX window_limits_replaces ON window_limits (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX window_limits_identity ON window_limits (route, name, from_day, cause);
CREATE UNIQUE INDEX window_limits_position ON window_limits (position);
CREATE TRIGGER window_limits_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON window_limits EXECUTE FUNCTION refuse_change();

CREATE TABLE spending_limits (
    key         text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces    text COLLATE "C" REFERENCES spending_limits (key) DEFERRABLE INITIALLY DEFERRED,
    void        boolean NOT NULL,
    who         text COLLATE "C" NOT NULL,
    why         text COLLATE "C" NOT NULL,
    plant       text COLLATE "C" NOT NULL,
    name        text COLLATE "C" NOT NULL,
    kind        text COLLATE "C" NOT NULL,
    from_day    text COLLATE "C" NOT NULL,
    until_day   text COLLATE "C" NOT NULL,
    amount      double precision,
    currency    text COLLATE "C" NOT NULL,
    volume_l15  double precision,
    digest      text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position    bigint NOT NULL
);
CREATE UNIQUE INDEX spending_limits_replaces ON spending_limits (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX spending_limits_identity ON spending_limits (plant, name, from_day);
CREATE UNIQUE INDEX spending_limits_position ON spending_limits (position);
CREATE TRIGGER spending_limits_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON spending_limits EXECUTE FUNCTION refuse_change();

ALTER TABLE routes ADD COLUMN load_l15 double precision NOT NULL DEFAULT 0;
ALTER TABLE routes ADD COLUMN stop_cost double precision NOT NULL DEFAULT 0;
ALTER TABLE routes ADD COLUMN freight_per_l15 double precision NOT NULL DEFAULT 0;
ALTER TABLE routes ADD COLUMN price_growth_per_year double precision NOT NULL DEFAULT 0;
ALTER TABLE routes ADD COLUMN price_sd_per_year double precision NOT NULL DEFAULT 0;
ALTER TABLE routes ADD COLUMN deliveries bigint NOT NULL DEFAULT 0;
ALTER TABLE routes ADD COLUMN days_between bigint NOT NULL DEFAULT 0;
ALTER TABLE routes ADD COLUMN pay_from text COLLATE "C" NOT NULL DEFAULT '';
ALTER TABLE routes ADD COLUMN pay_days bigint NOT NULL DEFAULT 0;
ALTER TABLE windows ADD COLUMN cut_off text COLLATE "C";
ALTER TABLE plants ADD COLUMN reserve_months double precision;
ALTER TABLE plants ADD COLUMN reserve_percent double precision;
ALTER TABLE plants ADD COLUMN carrying_per_year double precision;
ALTER TABLE plants ADD COLUMN fallback_at_days bigint;

CREATE VIEW window_limits_in_force AS
SELECT r.route, r.name AS window_name, r.from_day, r.until_day, r.lot_max_l15, r.cause, r.note, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
FROM window_limits AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM window_limits AS later WHERE later.replaces = r.key);

CREATE VIEW spending_limits_in_force AS
SELECT r.plant, p.name AS plant_name, r.name AS limit_name, r.kind, ledger_day(r.from_day) AS from_day, ledger_day(r.until_day) AS until_day,
    r.amount, r.currency, r.volume_l15, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
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
    ledger_instant(r.recorded_ms) AS recorded,
    r.load_l15, r.stop_cost, r.freight_per_l15, r.price_growth_per_year, r.price_sd_per_year,
    nullif(r.deliveries, 0) AS deliveries, r.days_between, r.pay_from, r.pay_days
FROM routes AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM routes AS later WHERE later.replaces = r.key);

DROP VIEW windows_in_force;
CREATE VIEW windows_in_force AS
SELECT r.route, r.name AS window_name, nullif(r.year, 0) AS year, r.opens, r.opens_sd_days, r.closes,
    r.closes_sd_days, r.fail_chance, r.order_by, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded,
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
    ledger_instant(r.recorded_ms) AS recorded
FROM routes AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM routes AS later WHERE later.replaces = r.key);

CREATE VIEW windows_in_force AS
SELECT r.route, r.name AS window_name, nullif(r.year, 0) AS year, r.opens, r.opens_sd_days, r.closes,
    r.closes_sd_days, r.fail_chance, r.order_by, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded,
    r.opens_lag_days, r.opens_lag_sd_days, r.closes_lag_days, r.closes_lag_sd_days
FROM windows AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM windows AS later WHERE later.replaces = r.key);
