-- The ledger. Rows are added and never changed; a correction is a row that replaces another.
--
-- Names carry units: _ms is an instant in UTC milliseconds, _l litres as stated, _l15 litres at 15 °C,
-- _mm, _c, _kgm3. Days are ISO text, days of any year MM-DD. NULL means that it was not stated.
-- digest identifies the content; recorded_ms says when the row was written.
--
-- A row is found by its key alone, whatever its plant, so key is the primary key everywhere. Tables
-- are kept in order of the key, and rows of one load have neighbouring keys. An engine with native
-- partitions can hold readings in hash partitions of the key.

-- +goose Up
CREATE TABLE plants (
    key                   TEXT NOT NULL PRIMARY KEY,
    replaces              TEXT REFERENCES plants (key) DEFERRABLE INITIALLY DEFERRED,
    void                  INTEGER NOT NULL CHECK (void IN (0, 1)),
    who                   TEXT NOT NULL,
    why                   TEXT NOT NULL,
    id                    TEXT NOT NULL,
    name                  TEXT NOT NULL,
    climate_group         TEXT NOT NULL,
    zone                  TEXT NOT NULL,
    product               TEXT NOT NULL,
    density15_kgm3        REAL,
    reserve_l15           REAL,
    reserve_days          INTEGER,
    risk_target           REAL,
    assumed_temperature_c REAL,
    warm_to_c             REAL,
    display_volume        TEXT NOT NULL,
    display_depth         TEXT NOT NULL,
    display_temperature   TEXT NOT NULL,
    fiscal_year_begins    INTEGER NOT NULL,
    digest                TEXT NOT NULL,
    recorded_ms           INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX plants_replaces ON plants (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX plants_identity ON plants (id);

CREATE TABLE routes (
    key           TEXT NOT NULL PRIMARY KEY,
    replaces      TEXT REFERENCES routes (key) DEFERRABLE INITIALLY DEFERRED,
    void          INTEGER NOT NULL CHECK (void IN (0, 1)),
    who           TEXT NOT NULL,
    why           TEXT NOT NULL,
    id            TEXT NOT NULL,
    mode          TEXT NOT NULL,
    supplier      TEXT NOT NULL,
    fallback      INTEGER NOT NULL CHECK (fallback IN (0, 1)),
    lead_days     REAL NOT NULL,
    lead_sd_days  REAL NOT NULL,
    slip_days     REAL NOT NULL,
    slip_sd_days  REAL NOT NULL,
    lot_min_l15   REAL NOT NULL,
    lot_max_l15   REAL NOT NULL,
    lot_step_l15  REAL NOT NULL,
    price_per_l15 REAL NOT NULL,
    currency      TEXT NOT NULL,
    digest        TEXT NOT NULL,
    recorded_ms   INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX routes_replaces ON routes (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX routes_identity ON routes (id);

CREATE TABLE services (
    key         TEXT NOT NULL PRIMARY KEY,
    replaces    TEXT REFERENCES services (key) DEFERRABLE INITIALLY DEFERRED,
    void        INTEGER NOT NULL CHECK (void IN (0, 1)),
    who         TEXT NOT NULL,
    why         TEXT NOT NULL,
    plant       TEXT NOT NULL,
    route       TEXT NOT NULL,
    digest      TEXT NOT NULL,
    recorded_ms INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX services_replaces ON services (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX services_identity ON services (plant, route);

CREATE TABLE windows (
    key            TEXT NOT NULL PRIMARY KEY,
    replaces       TEXT REFERENCES windows (key) DEFERRABLE INITIALLY DEFERRED,
    void           INTEGER NOT NULL CHECK (void IN (0, 1)),
    who            TEXT NOT NULL,
    why            TEXT NOT NULL,
    route          TEXT NOT NULL,
    name           TEXT NOT NULL,
    year           INTEGER NOT NULL,
    opens          TEXT NOT NULL,
    opens_sd_days  REAL NOT NULL,
    closes         TEXT NOT NULL,
    closes_sd_days REAL NOT NULL,
    fail_chance    REAL NOT NULL,
    order_by       TEXT,
    digest         TEXT NOT NULL,
    recorded_ms    INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX windows_replaces ON windows (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX windows_identity ON windows (route, name, year);

CREATE TABLE tanks (
    key                TEXT NOT NULL PRIMARY KEY,
    replaces           TEXT REFERENCES tanks (key) DEFERRABLE INITIALLY DEFERRED,
    void               INTEGER NOT NULL CHECK (void IN (0, 1)),
    who                TEXT NOT NULL,
    why                TEXT NOT NULL,
    plant              TEXT NOT NULL,
    id                 TEXT NOT NULL,
    role               TEXT NOT NULL,
    product            TEXT NOT NULL,
    shape              TEXT NOT NULL,
    diameter_mm        REAL,
    length_mm          REAL,
    width_mm           REAL,
    height_mm          REAL,
    capacity_l         REAL,
    safe_fill_depth_mm REAL,
    safe_fill_l        REAL,
    suction_depth_mm   REAL,
    unusable_l         REAL,
    out_from           TEXT,
    back_on            TEXT,
    digest             TEXT NOT NULL,
    recorded_ms        INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX tanks_replaces ON tanks (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX tanks_identity ON tanks (plant, id);

CREATE TABLE capacity_points (
    tank_key TEXT NOT NULL REFERENCES tanks (key) DEFERRABLE INITIALLY DEFERRED,
    point    INTEGER NOT NULL,
    depth_mm REAL NOT NULL,
    volume_l REAL NOT NULL,
    PRIMARY KEY (tank_key, point)
) STRICT, WITHOUT ROWID;

CREATE TABLE meters (
    key              TEXT NOT NULL PRIMARY KEY,
    replaces         TEXT REFERENCES meters (key) DEFERRABLE INITIALLY DEFERRED,
    void             INTEGER NOT NULL CHECK (void IN (0, 1)),
    who              TEXT NOT NULL,
    why              TEXT NOT NULL,
    plant            TEXT NOT NULL,
    id               TEXT NOT NULL,
    digits           INTEGER NOT NULL,
    litres_per_count REAL NOT NULL,
    factor           REAL NOT NULL,
    compensated      INTEGER NOT NULL CHECK (compensated IN (0, 1)),
    digest           TEXT NOT NULL,
    recorded_ms      INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX meters_replaces ON meters (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX meters_identity ON meters (plant, id);

CREATE TABLE meter_readings (
    key           TEXT NOT NULL PRIMARY KEY,
    replaces      TEXT REFERENCES meter_readings (key) DEFERRABLE INITIALLY DEFERRED,
    void          INTEGER NOT NULL CHECK (void IN (0, 1)),
    who           TEXT NOT NULL,
    why           TEXT NOT NULL,
    plant         TEXT NOT NULL,
    meter         TEXT NOT NULL,
    at_ms         INTEGER NOT NULL,
    register      REAL NOT NULL,
    temperature_c REAL,
    digest        TEXT NOT NULL,
    recorded_ms   INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX meter_readings_replaces ON meter_readings (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX meter_readings_time ON meter_readings (plant, at_ms, key);

CREATE TABLE meter_swaps (
    key         TEXT NOT NULL PRIMARY KEY,
    replaces    TEXT REFERENCES meter_swaps (key) DEFERRABLE INITIALLY DEFERRED,
    void        INTEGER NOT NULL CHECK (void IN (0, 1)),
    who         TEXT NOT NULL,
    why         TEXT NOT NULL,
    plant       TEXT NOT NULL,
    meter       TEXT NOT NULL,
    at_ms       INTEGER NOT NULL,
    closing     REAL,
    opening     REAL,
    digest      TEXT NOT NULL,
    recorded_ms INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX meter_swaps_replaces ON meter_swaps (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX meter_swaps_time ON meter_swaps (plant, at_ms, key);

CREATE TABLE gaugings (
    key           TEXT NOT NULL PRIMARY KEY,
    replaces      TEXT REFERENCES gaugings (key) DEFERRABLE INITIALLY DEFERRED,
    void          INTEGER NOT NULL CHECK (void IN (0, 1)),
    who           TEXT NOT NULL,
    why           TEXT NOT NULL,
    plant         TEXT NOT NULL,
    tank          TEXT NOT NULL,
    at_ms         INTEGER NOT NULL,
    depth_mm      REAL,
    water_mm      REAL,
    volume_l      REAL,
    temperature_c REAL,
    precision_mm  REAL NOT NULL,
    digest        TEXT NOT NULL,
    recorded_ms   INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX gaugings_replaces ON gaugings (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX gaugings_time ON gaugings (plant, at_ms, key);

CREATE TABLE period_totals (
    key           TEXT NOT NULL PRIMARY KEY,
    replaces      TEXT REFERENCES period_totals (key) DEFERRABLE INITIALLY DEFERRED,
    void          INTEGER NOT NULL CHECK (void IN (0, 1)),
    who           TEXT NOT NULL,
    why           TEXT NOT NULL,
    plant         TEXT NOT NULL,
    first_day     TEXT NOT NULL,
    last_day      TEXT NOT NULL,
    volume_l      REAL NOT NULL,
    temperature_c REAL,
    basis         TEXT NOT NULL,
    digest        TEXT NOT NULL,
    recorded_ms   INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX period_totals_replaces ON period_totals (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX period_totals_time ON period_totals (plant, last_day, key);

CREATE TABLE deliveries (
    key           TEXT NOT NULL PRIMARY KEY,
    replaces      TEXT REFERENCES deliveries (key) DEFERRABLE INITIALLY DEFERRED,
    void          INTEGER NOT NULL CHECK (void IN (0, 1)),
    who           TEXT NOT NULL,
    why           TEXT NOT NULL,
    plant         TEXT NOT NULL,
    tank          TEXT NOT NULL,
    at_ms         INTEGER NOT NULL,
    volume_l      REAL NOT NULL,
    temperature_c REAL,
    basis         TEXT NOT NULL,
    order_id      TEXT NOT NULL,
    document      TEXT NOT NULL,
    digest        TEXT NOT NULL,
    recorded_ms   INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX deliveries_replaces ON deliveries (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX deliveries_time ON deliveries (plant, at_ms, key);

CREATE TABLE transfers (
    key           TEXT NOT NULL PRIMARY KEY,
    replaces      TEXT REFERENCES transfers (key) DEFERRABLE INITIALLY DEFERRED,
    void          INTEGER NOT NULL CHECK (void IN (0, 1)),
    who           TEXT NOT NULL,
    why           TEXT NOT NULL,
    plant         TEXT NOT NULL,
    from_tank     TEXT NOT NULL,
    to_tank       TEXT NOT NULL,
    at_ms         INTEGER NOT NULL,
    volume_l      REAL NOT NULL,
    temperature_c REAL,
    basis         TEXT NOT NULL,
    digest        TEXT NOT NULL,
    recorded_ms   INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX transfers_replaces ON transfers (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX transfers_time ON transfers (plant, at_ms, key);

CREATE TABLE draws (
    key           TEXT NOT NULL PRIMARY KEY,
    replaces      TEXT REFERENCES draws (key) DEFERRABLE INITIALLY DEFERRED,
    void          INTEGER NOT NULL CHECK (void IN (0, 1)),
    who           TEXT NOT NULL,
    why           TEXT NOT NULL,
    plant         TEXT NOT NULL,
    first_day     TEXT NOT NULL,
    last_day      TEXT NOT NULL,
    volume_l      REAL NOT NULL,
    temperature_c REAL,
    basis         TEXT NOT NULL,
    purpose       TEXT NOT NULL,
    digest        TEXT NOT NULL,
    recorded_ms   INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX draws_replaces ON draws (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX draws_time ON draws (plant, last_day, key);

CREATE TABLE orders (
    key           TEXT NOT NULL PRIMARY KEY,
    replaces      TEXT REFERENCES orders (key) DEFERRABLE INITIALLY DEFERRED,
    void          INTEGER NOT NULL CHECK (void IN (0, 1)),
    who           TEXT NOT NULL,
    why           TEXT NOT NULL,
    plant         TEXT NOT NULL,
    id            TEXT NOT NULL,
    route         TEXT NOT NULL,
    state         TEXT NOT NULL,
    ordered_on    TEXT NOT NULL,
    early         TEXT NOT NULL,
    likely        TEXT NOT NULL,
    late          TEXT NOT NULL,
    volume_l      REAL NOT NULL,
    temperature_c REAL,
    basis         TEXT NOT NULL,
    digest        TEXT NOT NULL,
    recorded_ms   INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX orders_replaces ON orders (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX orders_time ON orders (plant, ordered_on, key);
CREATE INDEX orders_identity ON orders (plant, id);

-- +goose Down
DROP TABLE capacity_points;
DROP TABLE orders;
DROP TABLE draws;
DROP TABLE transfers;
DROP TABLE deliveries;
DROP TABLE period_totals;
DROP TABLE gaugings;
DROP TABLE meter_swaps;
DROP TABLE meter_readings;
DROP TABLE meters;
DROP TABLE tanks;
DROP TABLE windows;
DROP TABLE services;
DROP TABLE routes;
DROP TABLE plants;
