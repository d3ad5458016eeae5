-- The life of an order: when it came into its state, by when it must be placed; and the clearances it must pass.

-- +goose Up
CREATE TABLE clearances (
    key          TEXT NOT NULL PRIMARY KEY,
    replaces     TEXT REFERENCES clearances (key) DEFERRABLE INITIALLY DEFERRED,
    void         INTEGER NOT NULL CHECK (void IN (0, 1)),
    who          TEXT NOT NULL,
    why          TEXT NOT NULL,
    plant        TEXT NOT NULL,
    order_id     TEXT NOT NULL,
    name         TEXT NOT NULL,
    last_safe_on TEXT,
    takes_days   INTEGER,
    cleared_on   TEXT,
    given_by     TEXT NOT NULL,
    note         TEXT NOT NULL,
    digest       TEXT NOT NULL,
    recorded_ms  INTEGER NOT NULL,
    position     INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX clearances_replaces ON clearances (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX clearances_identity ON clearances (plant, order_id, name);
CREATE UNIQUE INDEX clearances_position ON clearances (position);
CREATE TRIGGER clearances_no_update BEFORE UPDATE ON clearances BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;
CREATE TRIGGER clearances_no_delete BEFORE DELETE ON clearances BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE VIEW clearances_in_force AS
SELECT r.plant, p.name AS plant_name, r.order_id, r.name AS clearance, r.last_safe_on, r.takes_days, r.cleared_on,
    r.given_by, r.note, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM clearances AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM clearances AS later WHERE later.replaces = r.key);

ALTER TABLE orders ADD COLUMN state_at_ms INTEGER;
ALTER TABLE orders ADD COLUMN order_by TEXT;

DROP VIEW orders_in_force;
CREATE VIEW orders_in_force AS
SELECT r.plant, p.name AS plant_name, r.id AS order_id, r.route, r.state, r.ordered_on, r.early, r.likely,
    r.late, r.volume_l, r.temperature_c, r.basis, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded,
    strftime('%Y-%m-%d %H:%M:%fZ', r.state_at_ms / 1000.0, 'unixepoch') AS state_at, r.order_by
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
SELECT r.plant, p.name AS plant_name, r.id AS order_id, r.route, r.state, r.ordered_on, r.early, r.likely,
    r.late, r.volume_l, r.temperature_c, r.basis, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM orders AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM orders AS later WHERE later.replaces = r.key);
