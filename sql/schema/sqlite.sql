-- The tables of an SQLite ledger after all migrations. Written by a test; see DEVELOPERS.md.

CREATE TABLE advice (
    plant          TEXT NOT NULL,
    as_of          TEXT NOT NULL,
    model_version  TEXT NOT NULL,
    inputs_version TEXT NOT NULL,
    seed           INTEGER NOT NULL,
    issued_ms      INTEGER NOT NULL,
    body           TEXT NOT NULL,
    PRIMARY KEY (plant, as_of, model_version, inputs_version, seed)
) STRICT;

CREATE TRIGGER advice_no_delete BEFORE DELETE ON advice BEGIN SELECT RAISE(ABORT, 'issued advice is never deleted'); END;

CREATE TRIGGER advice_no_update BEFORE UPDATE ON advice BEGIN SELECT RAISE(ABORT, 'issued advice is never changed'); END;

CREATE TABLE capacity_points (
    tank_key TEXT NOT NULL REFERENCES tanks (key) DEFERRABLE INITIALLY DEFERRED,
    point    INTEGER NOT NULL,
    depth_mm REAL NOT NULL,
    volume_l REAL NOT NULL,
    PRIMARY KEY (tank_key, point)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER capacity_points_no_delete BEFORE DELETE ON capacity_points BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER capacity_points_no_update BEFORE UPDATE ON capacity_points BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE TABLE current_advice (
    plant          TEXT NOT NULL,
    seed           INTEGER NOT NULL,
    as_of          TEXT NOT NULL,
    model_version  TEXT NOT NULL,
    inputs_version TEXT NOT NULL,
    issued_ms      INTEGER NOT NULL,
    revision       INTEGER NOT NULL,
    PRIMARY KEY (plant, seed),
    FOREIGN KEY (plant, as_of, model_version, inputs_version, seed)
        REFERENCES advice (plant, as_of, model_version, inputs_version, seed)
) STRICT, WITHOUT ROWID;

CREATE UNIQUE INDEX current_advice_revision ON current_advice (seed, revision);

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

CREATE TRIGGER deliveries_no_delete BEFORE DELETE ON deliveries BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER deliveries_no_update BEFORE UPDATE ON deliveries BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX deliveries_replaces ON deliveries (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX deliveries_time ON deliveries (plant, at_ms, key);

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

CREATE TRIGGER draws_no_delete BEFORE DELETE ON draws BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER draws_no_update BEFORE UPDATE ON draws BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX draws_replaces ON draws (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX draws_time ON draws (plant, last_day, key);

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

CREATE TRIGGER gaugings_no_delete BEFORE DELETE ON gaugings BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER gaugings_no_update BEFORE UPDATE ON gaugings BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX gaugings_replaces ON gaugings (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX gaugings_time ON gaugings (plant, at_ms, key);

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

CREATE TRIGGER meter_readings_no_delete BEFORE DELETE ON meter_readings BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER meter_readings_no_update BEFORE UPDATE ON meter_readings BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

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

CREATE TRIGGER meter_swaps_no_delete BEFORE DELETE ON meter_swaps BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER meter_swaps_no_update BEFORE UPDATE ON meter_swaps BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX meter_swaps_replaces ON meter_swaps (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX meter_swaps_time ON meter_swaps (plant, at_ms, key);

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

CREATE INDEX meters_identity ON meters (plant, id);

CREATE TRIGGER meters_no_delete BEFORE DELETE ON meters BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER meters_no_update BEFORE UPDATE ON meters BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX meters_replaces ON meters (replaces) WHERE replaces IS NOT NULL;

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

CREATE INDEX orders_identity ON orders (plant, id);

CREATE TRIGGER orders_no_delete BEFORE DELETE ON orders BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER orders_no_update BEFORE UPDATE ON orders BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX orders_replaces ON orders (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX orders_time ON orders (plant, ordered_on, key);

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

CREATE TRIGGER period_totals_no_delete BEFORE DELETE ON period_totals BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER period_totals_no_update BEFORE UPDATE ON period_totals BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX period_totals_replaces ON period_totals (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX period_totals_time ON period_totals (plant, last_day, key);

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

CREATE INDEX plants_identity ON plants (id);

CREATE TRIGGER plants_no_delete BEFORE DELETE ON plants BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER plants_no_update BEFORE UPDATE ON plants BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX plants_replaces ON plants (replaces) WHERE replaces IS NOT NULL;

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

CREATE INDEX routes_identity ON routes (id);

CREATE TRIGGER routes_no_delete BEFORE DELETE ON routes BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER routes_no_update BEFORE UPDATE ON routes BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX routes_replaces ON routes (replaces) WHERE replaces IS NOT NULL;

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

CREATE INDEX services_identity ON services (plant, route);

CREATE TRIGGER services_no_delete BEFORE DELETE ON services BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER services_no_update BEFORE UPDATE ON services BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX services_replaces ON services (replaces) WHERE replaces IS NOT NULL;

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

CREATE INDEX tanks_identity ON tanks (plant, id);

CREATE TRIGGER tanks_no_delete BEFORE DELETE ON tanks BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER tanks_no_update BEFORE UPDATE ON tanks BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX tanks_replaces ON tanks (replaces) WHERE replaces IS NOT NULL;

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

CREATE TRIGGER transfers_no_delete BEFORE DELETE ON transfers BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER transfers_no_update BEFORE UPDATE ON transfers BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX transfers_replaces ON transfers (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX transfers_time ON transfers (plant, at_ms, key);

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

CREATE INDEX windows_identity ON windows (route, name, year);

CREATE TRIGGER windows_no_delete BEFORE DELETE ON windows BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER windows_no_update BEFORE UPDATE ON windows BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX windows_replaces ON windows (replaces) WHERE replaces IS NOT NULL;
