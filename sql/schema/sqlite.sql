-- The tables of a ledger with SQLite after all migrations. Written by a test; see DEVELOPERS.md.

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

CREATE TABLE capacity_points (
    tank_key TEXT NOT NULL REFERENCES tanks (key) DEFERRABLE INITIALLY DEFERRED,
    point    INTEGER NOT NULL,
    depth_mm REAL NOT NULL,
    volume_l REAL NOT NULL,
    PRIMARY KEY (tank_key, point)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER capacity_points_no_delete BEFORE DELETE ON capacity_points BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER capacity_points_no_update BEFORE UPDATE ON capacity_points BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

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

CREATE INDEX clearances_identity ON clearances (plant, order_id, name);

CREATE TRIGGER clearances_no_delete BEFORE DELETE ON clearances BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER clearances_no_update BEFORE UPDATE ON clearances BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX clearances_position ON clearances (position);

CREATE UNIQUE INDEX clearances_replaces ON clearances (replaces) WHERE replaces IS NOT NULL;

CREATE VIEW clearances_in_force AS
SELECT r.plant, p.name AS plant_name, r.order_id, r.name AS clearance, r.last_safe_on, r.takes_days, r.cleared_on,
    r.given_by, r.note, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM clearances AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM clearances AS later WHERE later.replaces = r.key);

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
, position INTEGER NOT NULL DEFAULT 0) STRICT, WITHOUT ROWID;

CREATE TRIGGER confirmations_no_delete BEFORE DELETE ON confirmations BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER confirmations_no_update BEFORE UPDATE ON confirmations BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE INDEX confirmations_plant ON confirmations (plant, key);

CREATE UNIQUE INDEX confirmations_position ON confirmations (position);

CREATE UNIQUE INDEX confirmations_replaces ON confirmations (replaces) WHERE replaces IS NOT NULL;

CREATE VIEW confirmations_in_force AS
SELECT r.plant, p.name AS plant_name, r.of_kind, r.of_key, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM confirmations AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM confirmations AS later WHERE later.replaces = r.key);

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
, position INTEGER NOT NULL DEFAULT 0) STRICT, WITHOUT ROWID;

CREATE TRIGGER count_corrections_no_delete BEFORE DELETE ON count_corrections BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER count_corrections_no_update BEFORE UPDATE ON count_corrections BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX count_corrections_position ON count_corrections (position);

CREATE UNIQUE INDEX count_corrections_replaces ON count_corrections (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX count_corrections_time ON count_corrections (plant, last_day, key);

CREATE VIEW count_corrections_in_force AS
SELECT r.plant, p.name AS plant_name, r.product, r.last_day AS day, r.volume_l, r.temperature_c, r.basis, r.key,
    r.who, r.why, strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM count_corrections AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM count_corrections AS later WHERE later.replaces = r.key);

CREATE TABLE current_advice (
    plant          TEXT NOT NULL,
    seed           INTEGER NOT NULL,
    as_of          TEXT NOT NULL,
    model_version  TEXT NOT NULL,
    inputs_version TEXT NOT NULL,
    issued_ms      INTEGER NOT NULL,
    revision       INTEGER NOT NULL, ledger_version INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (plant, seed),
    FOREIGN KEY (plant, as_of, model_version, inputs_version, seed)
        REFERENCES advice (plant, as_of, model_version, inputs_version, seed)
) STRICT, WITHOUT ROWID;

CREATE UNIQUE INDEX current_advice_revision ON current_advice (seed, revision);

CREATE VIEW day_tanks_in_force AS
SELECT r.plant, p.name AS plant_name, r.id AS tank, r.fill_start_l, r.fill_stop_l, r.low_level_l, r.fill_minutes,
    q.low_level_timer_hours, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM tanks AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
LEFT JOIN plants AS q ON q.key = p.key
WHERE r.role = 'day' AND NOT r.void AND NOT EXISTS (SELECT 1 FROM tanks AS later WHERE later.replaces = r.key);

CREATE TABLE degree_days (
    key           TEXT NOT NULL PRIMARY KEY,
    replaces      TEXT REFERENCES degree_days (key) DEFERRABLE INITIALLY DEFERRED,
    void          INTEGER NOT NULL CHECK (void IN (0, 1)),
    who           TEXT NOT NULL,
    why           TEXT NOT NULL,
    climate_group TEXT NOT NULL,
    first_day     TEXT NOT NULL,
    last_day      TEXT NOT NULL,
    degree_days_c REAL NOT NULL,
    base_c        REAL NOT NULL,
    digest        TEXT NOT NULL,
    recorded_ms   INTEGER NOT NULL,
    position      INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TRIGGER degree_days_no_delete BEFORE DELETE ON degree_days BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER degree_days_no_update BEFORE UPDATE ON degree_days BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX degree_days_position ON degree_days (position);

CREATE UNIQUE INDEX degree_days_replaces ON degree_days (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX degree_days_time ON degree_days (climate_group, last_day, key);

CREATE VIEW degree_days_in_force AS
SELECT r.climate_group, r.first_day, r.last_day, r.degree_days_c, r.base_c, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM degree_days AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM degree_days AS later WHERE later.replaces = r.key);

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
, product TEXT NOT NULL DEFAULT '', document_l REAL, document_temperature_c REAL, document_basis TEXT NOT NULL DEFAULT '', meter_l REAL, meter_temperature_c REAL, meter_basis TEXT NOT NULL DEFAULT '', refused_l REAL, price_per_l REAL, freight REAL, currency TEXT NOT NULL DEFAULT '', position INTEGER NOT NULL DEFAULT 0) STRICT, WITHOUT ROWID;

CREATE TRIGGER deliveries_no_delete BEFORE DELETE ON deliveries BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER deliveries_no_update BEFORE UPDATE ON deliveries BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX deliveries_position ON deliveries (position);

CREATE UNIQUE INDEX deliveries_replaces ON deliveries (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX deliveries_time ON deliveries (plant, at_ms, key);

CREATE VIEW deliveries_in_force AS
SELECT r.plant, p.name AS plant_name, r.tank,
    strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.volume_l, r.temperature_c,
    r.basis, r.order_id, r.document, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM deliveries AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM deliveries AS later WHERE later.replaces = r.key);

CREATE VIEW delivery_figures_in_force AS
SELECT r.plant, p.name AS plant_name, strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.tank,
    r.document, r.product, r.document_l, r.document_temperature_c, r.document_basis, r.meter_l,
    r.meter_temperature_c, r.meter_basis, r.refused_l, r.price_per_l, r.freight, r.currency, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM deliveries AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM deliveries AS later WHERE later.replaces = r.key);

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
, with_whom TEXT NOT NULL DEFAULT '', position INTEGER NOT NULL DEFAULT 0) STRICT, WITHOUT ROWID;

CREATE TRIGGER draws_no_delete BEFORE DELETE ON draws BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER draws_no_update BEFORE UPDATE ON draws BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX draws_position ON draws (position);

CREATE UNIQUE INDEX draws_replaces ON draws (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX draws_time ON draws (plant, last_day, key);

CREATE VIEW draws_in_force AS
SELECT r.plant, p.name AS plant_name, r.first_day, r.last_day, r.purpose, r.volume_l, r.temperature_c, r.basis,
    r.key, r.who, r.why, strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM draws AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM draws AS later WHERE later.replaces = r.key);

CREATE TABLE forecasts (
    plant          TEXT NOT NULL,
    month          TEXT NOT NULL,
    origin         TEXT NOT NULL,
    issued_ms      INTEGER NOT NULL,
    ledger_version INTEGER NOT NULL,
    model_version  TEXT NOT NULL,
    inputs_version TEXT NOT NULL,
    seed           INTEGER NOT NULL,
    body           TEXT NOT NULL,
    PRIMARY KEY (plant, month)
) STRICT;

CREATE TRIGGER forecasts_no_delete BEFORE DELETE ON forecasts BEGIN SELECT RAISE(ABORT, 'issued forecasts are never deleted'); END;

CREATE TRIGGER forecasts_no_update BEFORE UPDATE ON forecasts BEGIN SELECT RAISE(ABORT, 'issued forecasts are never changed'); END;

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
, moving INTEGER NOT NULL DEFAULT 0 CHECK (moving IN (0, 1)), position INTEGER NOT NULL DEFAULT 0, gauge TEXT NOT NULL DEFAULT '', ullage_mm REAL) STRICT, WITHOUT ROWID;

CREATE TRIGGER gaugings_no_delete BEFORE DELETE ON gaugings BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER gaugings_no_update BEFORE UPDATE ON gaugings BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX gaugings_position ON gaugings (position);

CREATE UNIQUE INDEX gaugings_replaces ON gaugings (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX gaugings_time ON gaugings (plant, at_ms, key);

CREATE VIEW gaugings_in_force AS
SELECT r.plant, p.name AS plant_name, r.tank, t.role AS tank_role,
    strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.depth_mm, r.water_mm, r.volume_l,
    r.temperature_c, r.precision_mm, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded, r.moving, r.gauge, r.ullage_mm
FROM gaugings AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
LEFT JOIN tanks_in_force AS t ON t.plant = r.plant AND t.tank = r.tank
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM gaugings AS later WHERE later.replaces = r.key);

CREATE TABLE ledger_changes (
    plant   TEXT NOT NULL PRIMARY KEY,
    version INTEGER NOT NULL
) STRICT;

CREATE INDEX ledger_changes_version ON ledger_changes (version);

CREATE TABLE ledger_versions (
    version     INTEGER NOT NULL PRIMARY KEY,
    position    INTEGER NOT NULL,
    recorded_ms INTEGER NOT NULL
) STRICT;

CREATE TRIGGER ledger_versions_no_delete BEFORE DELETE ON ledger_versions BEGIN SELECT RAISE(ABORT, 'versions are never deleted'); END;

CREATE TRIGGER ledger_versions_no_update BEFORE UPDATE ON ledger_versions BEGIN SELECT RAISE(ABORT, 'versions are never changed'); END;

CREATE INDEX ledger_versions_time ON ledger_versions (recorded_ms, version);

CREATE TABLE load_changes (
    key                 TEXT NOT NULL PRIMARY KEY,
    replaces            TEXT REFERENCES load_changes (key) DEFERRABLE INITIALLY DEFERRED,
    void                INTEGER NOT NULL CHECK (void IN (0, 1)),
    who                 TEXT NOT NULL,
    why                 TEXT NOT NULL,
    plant               TEXT NOT NULL,
    from_day            TEXT NOT NULL,
    until_day           TEXT,
    times               REAL,
    added_kw            REAL,
    uncertainty_percent REAL,
    cause               TEXT NOT NULL,
    note                TEXT NOT NULL,
    digest              TEXT NOT NULL,
    recorded_ms         INTEGER NOT NULL,
    position            INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TRIGGER load_changes_no_delete BEFORE DELETE ON load_changes BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER load_changes_no_update BEFORE UPDATE ON load_changes BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX load_changes_position ON load_changes (position);

CREATE UNIQUE INDEX load_changes_replaces ON load_changes (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX load_changes_time ON load_changes (plant, from_day, key);

CREATE VIEW load_changes_in_force AS
SELECT r.plant, p.name AS plant_name, r.from_day, r.until_day, r.times, r.added_kw,
    r.uncertainty_percent, r.cause, r.note, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM load_changes AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM load_changes AS later WHERE later.replaces = r.key);

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
, position INTEGER NOT NULL DEFAULT 0) STRICT, WITHOUT ROWID;

CREATE TRIGGER meter_provings_no_delete BEFORE DELETE ON meter_provings BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER meter_provings_no_update BEFORE UPDATE ON meter_provings BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX meter_provings_position ON meter_provings (position);

CREATE UNIQUE INDEX meter_provings_replaces ON meter_provings (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX meter_provings_time ON meter_provings (plant, at_ms, key);

CREATE VIEW meter_provings_in_force AS
SELECT r.plant, p.name AS plant_name, strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.meter,
    r.factor, r.key, r.who, r.why, strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM meter_provings AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM meter_provings AS later WHERE later.replaces = r.key);

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
, position INTEGER NOT NULL DEFAULT 0) STRICT, WITHOUT ROWID;

CREATE TRIGGER meter_readings_no_delete BEFORE DELETE ON meter_readings BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER meter_readings_no_update BEFORE UPDATE ON meter_readings BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX meter_readings_position ON meter_readings (position);

CREATE UNIQUE INDEX meter_readings_replaces ON meter_readings (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX meter_readings_time ON meter_readings (plant, at_ms, key);

CREATE VIEW meter_readings_in_force AS
SELECT r.plant, p.name AS plant_name, r.meter,
    strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.register AS register_counts,
    m.litres_per_count, r.temperature_c, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM meter_readings AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
LEFT JOIN meters_in_force AS m ON m.plant = r.plant AND m.meter = r.meter
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM meter_readings AS later WHERE later.replaces = r.key);

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
, position INTEGER NOT NULL DEFAULT 0) STRICT, WITHOUT ROWID;

CREATE TRIGGER meter_swaps_no_delete BEFORE DELETE ON meter_swaps BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER meter_swaps_no_update BEFORE UPDATE ON meter_swaps BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX meter_swaps_position ON meter_swaps (position);

CREATE UNIQUE INDEX meter_swaps_replaces ON meter_swaps (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX meter_swaps_time ON meter_swaps (plant, at_ms, key);

CREATE VIEW meter_swaps_in_force AS
SELECT r.plant, p.name AS plant_name, r.meter,
    strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.closing AS closing_counts,
    r.opening AS opening_counts, m.litres_per_count, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM meter_swaps AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
LEFT JOIN meters_in_force AS m ON m.plant = r.plant AND m.meter = r.meter
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM meter_swaps AS later WHERE later.replaces = r.key);

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
, position INTEGER NOT NULL DEFAULT 0) STRICT, WITHOUT ROWID;

CREATE INDEX meters_identity ON meters (plant, id);

CREATE TRIGGER meters_no_delete BEFORE DELETE ON meters BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER meters_no_update BEFORE UPDATE ON meters BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX meters_position ON meters (position);

CREATE UNIQUE INDEX meters_replaces ON meters (replaces) WHERE replaces IS NOT NULL;

CREATE VIEW meters_in_force AS
SELECT r.plant, p.name AS plant_name, r.id AS meter, r.digits, r.litres_per_count, r.factor, r.compensated,
    r.key, r.who, r.why, strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM meters AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM meters AS later WHERE later.replaces = r.key);

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
, position INTEGER NOT NULL DEFAULT 0, state_at_ms INTEGER, order_by TEXT) STRICT, WITHOUT ROWID;

CREATE INDEX orders_identity ON orders (plant, id);

CREATE TRIGGER orders_no_delete BEFORE DELETE ON orders BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER orders_no_update BEFORE UPDATE ON orders BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX orders_position ON orders (position);

CREATE UNIQUE INDEX orders_replaces ON orders (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX orders_time ON orders (plant, ordered_on, key);

CREATE VIEW orders_in_force AS
SELECT r.plant, p.name AS plant_name, r.id AS order_id, r.route, r.state, r.ordered_on, r.early, r.likely,
    r.late, r.volume_l, r.temperature_c, r.basis, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded,
    strftime('%Y-%m-%d %H:%M:%fZ', r.state_at_ms / 1000.0, 'unixepoch') AS state_at, r.order_by
FROM orders AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM orders AS later WHERE later.replaces = r.key);

CREATE TABLE past_windows (
    key         TEXT NOT NULL PRIMARY KEY,
    replaces    TEXT REFERENCES past_windows (key) DEFERRABLE INITIALLY DEFERRED,
    void        INTEGER NOT NULL CHECK (void IN (0, 1)),
    who         TEXT NOT NULL,
    why         TEXT NOT NULL,
    route       TEXT NOT NULL,
    name        TEXT NOT NULL,
    year        INTEGER NOT NULL,
    opens       TEXT,
    closes      TEXT,
    failed      INTEGER NOT NULL CHECK (failed IN (0, 1)),
    digest      TEXT NOT NULL,
    recorded_ms INTEGER NOT NULL,
    position    INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE INDEX past_windows_identity ON past_windows (route, name, year);

CREATE TRIGGER past_windows_no_delete BEFORE DELETE ON past_windows BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER past_windows_no_update BEFORE UPDATE ON past_windows BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX past_windows_position ON past_windows (position);

CREATE UNIQUE INDEX past_windows_replaces ON past_windows (replaces) WHERE replaces IS NOT NULL;

CREATE VIEW past_windows_in_force AS
SELECT r.route, r.name AS window_name, r.year, r.opens, r.closes, r.failed, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM past_windows AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM past_windows AS later WHERE later.replaces = r.key);

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
, energy_kwh REAL, position INTEGER NOT NULL DEFAULT 0) STRICT, WITHOUT ROWID;

CREATE TRIGGER period_totals_no_delete BEFORE DELETE ON period_totals BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER period_totals_no_update BEFORE UPDATE ON period_totals BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX period_totals_position ON period_totals (position);

CREATE UNIQUE INDEX period_totals_replaces ON period_totals (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX period_totals_time ON period_totals (plant, last_day, key);

CREATE VIEW period_totals_in_force AS
SELECT r.plant, p.name AS plant_name, r.first_day, r.last_day, r.volume_l, r.temperature_c, r.basis, r.key,
    r.who, r.why, strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM period_totals AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM period_totals AS later WHERE later.replaces = r.key);

CREATE VIEW plant_rules_in_force AS
SELECT p.plant, p.name AS plant_name, q.reserve_l15, q.reserve_days, q.reserve_months, q.reserve_percent,
    q.risk_target, q.fallback_at_days, q.carrying_per_year, p.key, p.who, p.why, p.recorded
FROM plants_in_force AS p
JOIN plants AS q ON q.key = p.key;

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
, low_level_timer_hours REAL, position INTEGER NOT NULL DEFAULT 0, reserve_months REAL, reserve_percent REAL, carrying_per_year REAL, fallback_at_days INTEGER) STRICT, WITHOUT ROWID;

CREATE INDEX plants_identity ON plants (id);

CREATE TRIGGER plants_no_delete BEFORE DELETE ON plants BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER plants_no_update BEFORE UPDATE ON plants BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX plants_position ON plants (position);

CREATE UNIQUE INDEX plants_replaces ON plants (replaces) WHERE replaces IS NOT NULL;

CREATE VIEW plants_in_force AS
SELECT r.id AS plant, r.name, r.climate_group, r.zone, r.product, r.density15_kgm3, r.reserve_l15,
    r.reserve_days, r.risk_target, r.assumed_temperature_c, r.warm_to_c,
    r.fiscal_year_begins AS fiscal_year_begins_month, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM plants AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM plants AS later WHERE later.replaces = r.key);

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
, position INTEGER NOT NULL DEFAULT 0) STRICT, WITHOUT ROWID;

CREATE TRIGGER product_changes_no_delete BEFORE DELETE ON product_changes BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER product_changes_no_update BEFORE UPDATE ON product_changes BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX product_changes_position ON product_changes (position);

CREATE UNIQUE INDEX product_changes_replaces ON product_changes (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX product_changes_time ON product_changes (plant, at_ms, key);

CREATE VIEW product_changes_in_force AS
SELECT r.plant, p.name AS plant_name, strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.tank,
    r.product, r.key, r.who, r.why, strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM product_changes AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM product_changes AS later WHERE later.replaces = r.key);

CREATE TABLE reports (
    key         TEXT NOT NULL PRIMARY KEY,
    digest      TEXT NOT NULL,
    recorded_ms INTEGER NOT NULL
) STRICT;

CREATE TRIGGER reports_no_delete BEFORE DELETE ON reports BEGIN SELECT RAISE(ABORT, 'reports are never deleted'); END;

CREATE TRIGGER reports_no_update BEFORE UPDATE ON reports BEGIN SELECT RAISE(ABORT, 'reports are never changed'); END;

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
, position INTEGER NOT NULL DEFAULT 0) STRICT, WITHOUT ROWID;

CREATE TRIGGER rounds_no_delete BEFORE DELETE ON rounds BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER rounds_no_update BEFORE UPDATE ON rounds BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX rounds_position ON rounds (position);

CREATE UNIQUE INDEX rounds_replaces ON rounds (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX rounds_time ON rounds (plant, at_ms, key);

CREATE VIEW rounds_in_force AS
SELECT r.plant, p.name AS plant_name, strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at,
    r.filter_bowl, r.alarms, r.pump_running, r.running_hours, r.energy_register_kwh, r.note, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM rounds AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM rounds AS later WHERE later.replaces = r.key);

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
, position INTEGER NOT NULL DEFAULT 0, load_l15 REAL NOT NULL DEFAULT 0, stop_cost REAL NOT NULL DEFAULT 0, freight_per_l15 REAL NOT NULL DEFAULT 0, price_growth_per_year REAL NOT NULL DEFAULT 0, price_sd_per_year REAL NOT NULL DEFAULT 0, deliveries INTEGER NOT NULL DEFAULT 0, days_between INTEGER NOT NULL DEFAULT 0, pay_from TEXT NOT NULL DEFAULT '', pay_days INTEGER NOT NULL DEFAULT 0) STRICT, WITHOUT ROWID;

CREATE INDEX routes_identity ON routes (id);

CREATE TRIGGER routes_no_delete BEFORE DELETE ON routes BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER routes_no_update BEFORE UPDATE ON routes BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX routes_position ON routes (position);

CREATE UNIQUE INDEX routes_replaces ON routes (replaces) WHERE replaces IS NOT NULL;

CREATE VIEW routes_in_force AS
SELECT r.id AS route, r.mode, r.supplier, r.fallback, r.lead_days, r.lead_sd_days, r.slip_days, r.slip_sd_days,
    r.lot_min_l15, r.lot_max_l15, r.lot_step_l15, r.price_per_l15, r.currency, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded,
    r.load_l15, r.stop_cost, r.freight_per_l15, r.price_growth_per_year, r.price_sd_per_year,
    nullif(r.deliveries, 0) AS deliveries, r.days_between, r.pay_from, r.pay_days
FROM routes AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM routes AS later WHERE later.replaces = r.key);

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
, position INTEGER NOT NULL DEFAULT 0) STRICT, WITHOUT ROWID;

CREATE INDEX services_identity ON services (plant, route);

CREATE TRIGGER services_no_delete BEFORE DELETE ON services BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER services_no_update BEFORE UPDATE ON services BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX services_position ON services (position);

CREATE UNIQUE INDEX services_replaces ON services (replaces) WHERE replaces IS NOT NULL;

CREATE VIEW services_in_force AS
SELECT r.plant, p.name AS plant_name, r.route, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM services AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM services AS later WHERE later.replaces = r.key);

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

CREATE INDEX spending_limits_identity ON spending_limits (plant, name, from_day);

CREATE TRIGGER spending_limits_no_delete BEFORE DELETE ON spending_limits BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER spending_limits_no_update BEFORE UPDATE ON spending_limits BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX spending_limits_position ON spending_limits (position);

CREATE UNIQUE INDEX spending_limits_replaces ON spending_limits (replaces) WHERE replaces IS NOT NULL;

CREATE VIEW spending_limits_in_force AS
SELECT r.plant, p.name AS plant_name, r.name AS limit_name, r.kind, r.from_day, r.until_day,
    r.amount, r.currency, r.volume_l15, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM spending_limits AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM spending_limits AS later WHERE later.replaces = r.key);

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
, fill_start_l REAL, fill_stop_l REAL, low_level_l REAL, fill_minutes REAL, own_share REAL, position INTEGER NOT NULL DEFAULT 0, reference_height_mm REAL) STRICT, WITHOUT ROWID;

CREATE INDEX tanks_identity ON tanks (plant, id);

CREATE TRIGGER tanks_no_delete BEFORE DELETE ON tanks BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER tanks_no_update BEFORE UPDATE ON tanks BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX tanks_position ON tanks (position);

CREATE UNIQUE INDEX tanks_replaces ON tanks (replaces) WHERE replaces IS NOT NULL;

CREATE VIEW tanks_in_force AS
SELECT r.plant, p.name AS plant_name, r.id AS tank, r.role, r.product, r.shape, r.diameter_mm, r.length_mm,
    r.width_mm, r.height_mm, r.capacity_l, r.safe_fill_depth_mm, r.safe_fill_l, r.suction_depth_mm,
    r.unusable_l, r.out_from, r.back_on, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM tanks AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM tanks AS later WHERE later.replaces = r.key);

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
, open INTEGER NOT NULL DEFAULT 0 CHECK (open IN (0, 1)), planned_stop_ms INTEGER, position INTEGER NOT NULL DEFAULT 0) STRICT, WITHOUT ROWID;

CREATE TRIGGER transfers_no_delete BEFORE DELETE ON transfers BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER transfers_no_update BEFORE UPDATE ON transfers BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX transfers_position ON transfers (position);

CREATE UNIQUE INDEX transfers_replaces ON transfers (replaces) WHERE replaces IS NOT NULL;

CREATE INDEX transfers_time ON transfers (plant, at_ms, key);

CREATE VIEW transfers_in_force AS
SELECT r.plant, p.name AS plant_name, r.from_tank, r.to_tank,
    strftime('%Y-%m-%d %H:%M:%fZ', r.at_ms / 1000.0, 'unixepoch') AS at, r.volume_l, r.temperature_c,
    r.basis, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM transfers AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM transfers AS later WHERE later.replaces = r.key);

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

CREATE INDEX window_limits_identity ON window_limits (route, name, from_day, cause);

CREATE TRIGGER window_limits_no_delete BEFORE DELETE ON window_limits BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER window_limits_no_update BEFORE UPDATE ON window_limits BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX window_limits_position ON window_limits (position);

CREATE UNIQUE INDEX window_limits_replaces ON window_limits (replaces) WHERE replaces IS NOT NULL;

CREATE VIEW window_limits_in_force AS
SELECT r.route, r.name AS window_name, r.from_day, r.until_day, r.lot_max_l15, r.cause, r.note, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM window_limits AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM window_limits AS later WHERE later.replaces = r.key);

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
, position INTEGER NOT NULL DEFAULT 0, opens_lag_days REAL NOT NULL DEFAULT 0, opens_lag_sd_days REAL NOT NULL DEFAULT 0, closes_lag_days REAL NOT NULL DEFAULT 0, closes_lag_sd_days REAL NOT NULL DEFAULT 0, cut_off TEXT) STRICT, WITHOUT ROWID;

CREATE INDEX windows_identity ON windows (route, name, year);

CREATE TRIGGER windows_no_delete BEFORE DELETE ON windows BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE TRIGGER windows_no_update BEFORE UPDATE ON windows BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

CREATE UNIQUE INDEX windows_position ON windows (position);

CREATE UNIQUE INDEX windows_replaces ON windows (replaces) WHERE replaces IS NOT NULL;

CREATE VIEW windows_in_force AS
SELECT r.route, r.name AS window_name, nullif(r.year, 0) AS year, r.opens, r.opens_sd_days, r.closes,
    r.closes_sd_days, r.fail_chance, r.order_by, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded,
    r.opens_lag_days, r.opens_lag_sd_days, r.closes_lag_days, r.closes_lag_sd_days, r.cut_off
FROM windows AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM windows AS later WHERE later.replaces = r.key);
