-- What the books need beside readings and movements: rounds, provings, count corrections, changes of product, confirmations of
-- rows that looked wrong, and more of what a delivery, a transfer, a draw, a total, a gauging and a tank may say.

-- +goose Up
CREATE TABLE rounds (
    key                 TEXT NOT NULL PRIMARY KEY,
    replaces            TEXT REFERENCES rounds (key) DEFERRABLE INITIALLY DEFERRED,
    void                INTEGER NOT NULL CHECK (void IN (0, 1)),
    who                 TEXT NOT NULL,
    why                 TEXT NOT NULL,
    plant               TEXT NOT NULL,
    at_ms               INTEGER NOT NULL,
    filter_bowl         TEXT NOT NULL,
    alarms              TEXT NOT NULL,
    pump_running        INTEGER CHECK (pump_running IN (0, 1)),
    running_hours       REAL,
    energy_register_kwh REAL,
    note                TEXT NOT NULL,
    digest              TEXT NOT NULL,
    recorded_ms         INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX rounds_replaces ON rounds (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX rounds_time ON rounds (plant, at_ms, key);
CREATE TRIGGER rounds_no_update BEFORE UPDATE ON rounds BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;
CREATE TRIGGER rounds_no_delete BEFORE DELETE ON rounds BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TABLE meter_provings (
    key         TEXT NOT NULL PRIMARY KEY,
    replaces    TEXT REFERENCES meter_provings (key) DEFERRABLE INITIALLY DEFERRED,
    void        INTEGER NOT NULL CHECK (void IN (0, 1)),
    who         TEXT NOT NULL,
    why         TEXT NOT NULL,
    plant       TEXT NOT NULL,
    meter       TEXT NOT NULL,
    at_ms       INTEGER NOT NULL,
    factor      REAL NOT NULL,
    digest      TEXT NOT NULL,
    recorded_ms INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX meter_provings_replaces ON meter_provings (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX meter_provings_time ON meter_provings (plant, at_ms, key);
CREATE TRIGGER meter_provings_no_update BEFORE UPDATE ON meter_provings BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;
CREATE TRIGGER meter_provings_no_delete BEFORE DELETE ON meter_provings BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TABLE count_corrections (
    key           TEXT NOT NULL PRIMARY KEY,
    replaces      TEXT REFERENCES count_corrections (key) DEFERRABLE INITIALLY DEFERRED,
    void          INTEGER NOT NULL CHECK (void IN (0, 1)),
    who           TEXT NOT NULL,
    why           TEXT NOT NULL,
    plant         TEXT NOT NULL,
    product       TEXT NOT NULL,
    last_day      TEXT NOT NULL,
    volume_l      REAL NOT NULL,
    temperature_c REAL,
    basis         TEXT NOT NULL,
    digest        TEXT NOT NULL,
    recorded_ms   INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX count_corrections_replaces ON count_corrections (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX count_corrections_time ON count_corrections (plant, last_day, key);
CREATE TRIGGER count_corrections_no_update BEFORE UPDATE ON count_corrections BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;
CREATE TRIGGER count_corrections_no_delete BEFORE DELETE ON count_corrections BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TABLE product_changes (
    key         TEXT NOT NULL PRIMARY KEY,
    replaces    TEXT REFERENCES product_changes (key) DEFERRABLE INITIALLY DEFERRED,
    void        INTEGER NOT NULL CHECK (void IN (0, 1)),
    who         TEXT NOT NULL,
    why         TEXT NOT NULL,
    plant       TEXT NOT NULL,
    tank        TEXT NOT NULL,
    at_ms       INTEGER NOT NULL,
    product     TEXT NOT NULL,
    digest      TEXT NOT NULL,
    recorded_ms INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX product_changes_replaces ON product_changes (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX product_changes_time ON product_changes (plant, at_ms, key);
CREATE TRIGGER product_changes_no_update BEFORE UPDATE ON product_changes BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;
CREATE TRIGGER product_changes_no_delete BEFORE DELETE ON product_changes BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TABLE confirmations (
    key         TEXT NOT NULL PRIMARY KEY,
    replaces    TEXT REFERENCES confirmations (key) DEFERRABLE INITIALLY DEFERRED,
    void        INTEGER NOT NULL CHECK (void IN (0, 1)),
    who         TEXT NOT NULL,
    why         TEXT NOT NULL,
    plant       TEXT NOT NULL,
    of_kind     TEXT NOT NULL,
    of_key      TEXT NOT NULL,
    digest      TEXT NOT NULL,
    recorded_ms INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX confirmations_replaces ON confirmations (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX confirmations_plant ON confirmations (plant, key);
CREATE TRIGGER confirmations_no_update BEFORE UPDATE ON confirmations BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;
CREATE TRIGGER confirmations_no_delete BEFORE DELETE ON confirmations BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

ALTER TABLE tanks ADD COLUMN own_share REAL;
ALTER TABLE gaugings ADD COLUMN moving INTEGER NOT NULL DEFAULT 0 CHECK (moving IN (0, 1));
ALTER TABLE period_totals ADD COLUMN energy_kwh REAL;
ALTER TABLE deliveries ADD COLUMN product TEXT NOT NULL DEFAULT '';
ALTER TABLE deliveries ADD COLUMN document_l REAL;
ALTER TABLE deliveries ADD COLUMN document_temperature_c REAL;
ALTER TABLE deliveries ADD COLUMN document_basis TEXT NOT NULL DEFAULT '';
ALTER TABLE deliveries ADD COLUMN meter_l REAL;
ALTER TABLE deliveries ADD COLUMN meter_temperature_c REAL;
ALTER TABLE deliveries ADD COLUMN meter_basis TEXT NOT NULL DEFAULT '';
ALTER TABLE deliveries ADD COLUMN refused_l REAL;
ALTER TABLE deliveries ADD COLUMN price_per_l REAL;
ALTER TABLE deliveries ADD COLUMN freight REAL;
ALTER TABLE deliveries ADD COLUMN currency TEXT NOT NULL DEFAULT '';
ALTER TABLE transfers ADD COLUMN open INTEGER NOT NULL DEFAULT 0 CHECK (open IN (0, 1));
ALTER TABLE transfers ADD COLUMN planned_stop_ms INTEGER;
ALTER TABLE draws ADD COLUMN with_whom TEXT NOT NULL DEFAULT '';

CREATE VIEW rounds_in_force AS
SELECT r.plant, p.name AS plant_name, strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at,
    r.filter_bowl, r.alarms, r.pump_running, r.running_hours, r.energy_register_kwh, r.note, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM rounds AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM rounds AS later WHERE later.replaces = r.key);

CREATE VIEW meter_provings_in_force AS
SELECT r.plant, p.name AS plant_name, strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.meter,
    r.factor, r.key, r.who, r.why, strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM meter_provings AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM meter_provings AS later WHERE later.replaces = r.key);

CREATE VIEW count_corrections_in_force AS
SELECT r.plant, p.name AS plant_name, r.product, r.last_day AS day, r.volume_l, r.temperature_c, r.basis, r.key,
    r.who, r.why, strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM count_corrections AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM count_corrections AS later WHERE later.replaces = r.key);

CREATE VIEW product_changes_in_force AS
SELECT r.plant, p.name AS plant_name, strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.tank,
    r.product, r.key, r.who, r.why, strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM product_changes AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM product_changes AS later WHERE later.replaces = r.key);

CREATE VIEW confirmations_in_force AS
SELECT r.plant, p.name AS plant_name, r.of_kind, r.of_key, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM confirmations AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM confirmations AS later WHERE later.replaces = r.key);

CREATE VIEW delivery_figures_in_force AS
SELECT r.plant, p.name AS plant_name, strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.tank,
    r.document, r.product, r.document_l, r.document_temperature_c, r.document_basis, r.meter_l,
    r.meter_temperature_c, r.meter_basis, r.refused_l, r.price_per_l, r.freight, r.currency, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM deliveries AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM deliveries AS later WHERE later.replaces = r.key);

-- +goose Down
DROP VIEW delivery_figures_in_force;
DROP VIEW confirmations_in_force;
DROP VIEW product_changes_in_force;
DROP VIEW count_corrections_in_force;
DROP VIEW meter_provings_in_force;
DROP VIEW rounds_in_force;
ALTER TABLE draws DROP COLUMN with_whom;
ALTER TABLE transfers DROP COLUMN planned_stop_ms;
ALTER TABLE transfers DROP COLUMN open;
ALTER TABLE deliveries DROP COLUMN currency;
ALTER TABLE deliveries DROP COLUMN freight;
ALTER TABLE deliveries DROP COLUMN price_per_l;
ALTER TABLE deliveries DROP COLUMN refused_l;
ALTER TABLE deliveries DROP COLUMN meter_basis;
ALTER TABLE deliveries DROP COLUMN meter_temperature_c;
ALTER TABLE deliveries DROP COLUMN meter_l;
ALTER TABLE deliveries DROP COLUMN document_basis;
ALTER TABLE deliveries DROP COLUMN document_temperature_c;
ALTER TABLE deliveries DROP COLUMN document_l;
ALTER TABLE deliveries DROP COLUMN product;
ALTER TABLE period_totals DROP COLUMN energy_kwh;
ALTER TABLE gaugings DROP COLUMN moving;
ALTER TABLE tanks DROP COLUMN own_share;
DROP TABLE confirmations;
DROP TABLE product_changes;
DROP TABLE count_corrections;
DROP TABLE meter_provings;
DROP TABLE rounds;
