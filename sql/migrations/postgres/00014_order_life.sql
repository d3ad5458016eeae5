-- The life of an order: when it came into its state, by when it must be placed; and the clearances it must pass.

-- +goose Up
CREATE TABLE clearances (
    key          text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces     text COLLATE "C" REFERENCES clearances (key) DEFERRABLE INITIALLY DEFERRED,
    void         boolean NOT NULL,
    who          text COLLATE "C" NOT NULL,
    why          text COLLATE "C" NOT NULL,
    plant        text COLLATE "C" NOT NULL,
    order_id     text COLLATE "C" NOT NULL,
    name         text COLLATE "C" NOT NULL,
    last_safe_on text COLLATE "C",
    takes_days   bigint,
    cleared_on   text COLLATE "C",
    given_by     text COLLATE "C" NOT NULL,
    note         text COLLATE "C" NOT NULL,
    digest       text COLLATE "C" NOT NULL,
    recorded_ms  bigint NOT NULL,
    position     bigint NOT NULL
);
CREATE UNIQUE INDEX clearances_replaces ON clearances (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX clearances_identity ON clearances (plant, order_id, name);
CREATE UNIQUE INDEX clearances_position ON clearances (position);
CREATE TRIGGER clearances_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON clearances EXECUTE FUNCTION refuse_change();

CREATE VIEW clearances_in_force AS
SELECT r.plant, p.name AS plant_name, r.order_id, r.name AS clearance, ledger_day(r.last_safe_on) AS last_safe_on, r.takes_days, ledger_day(r.cleared_on) AS cleared_on,
    r.given_by, r.note, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
FROM clearances AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM clearances AS later WHERE later.replaces = r.key);

ALTER TABLE orders ADD COLUMN state_at_ms bigint;
ALTER TABLE orders ADD COLUMN order_by text COLLATE "C";

DROP VIEW orders_in_force;
CREATE VIEW orders_in_force AS
SELECT r.plant, p.name AS plant_name, r.id AS order_id, r.route, r.state,
    ledger_day(r.ordered_on) AS ordered_on, ledger_day(r.early) AS early, ledger_day(r.likely) AS likely,
    ledger_day(r.late) AS late, r.volume_l, r.temperature_c, r.basis, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded,
    ledger_instant(r.state_at_ms) AS state_at, ledger_day(r.order_by) AS order_by
FROM orders AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM orders AS later WHERE later.replaces = r.key);

-- +goose Down
DROP VIEW orders_in_force;
ALTER TABLE orders DROP COLUMN order_by;
ALTER TABLE orders DROP COLUMN state_at_ms;
DROP VIEW clearances_in_force;
DROP TABLE clearances;

CREATE VIEW orders_in_force AS
SELECT r.plant, p.name AS plant_name, r.id AS order_id, r.route, r.state,
    ledger_day(r.ordered_on) AS ordered_on, ledger_day(r.early) AS early, ledger_day(r.likely) AS likely,
    ledger_day(r.late) AS late, r.volume_l, r.temperature_c, r.basis, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
FROM orders AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM orders AS later WHERE later.replaces = r.key);
