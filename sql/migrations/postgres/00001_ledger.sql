-- The ledger. Rows are added and never changed; a correction is a row that replaces another.
--
-- Names carry units: _ms is an instant in UTC milliseconds, _l litres as stated, _l15 litres at 15 °C,
-- _mm, _c, _kgm3. Days are ISO text, days of any year MM-DD. NULL means that it was not stated.
-- digest identifies the content; recorded_ms says when the row was written.
--
-- A row is found by its key alone, whatever its plant, so key is the primary key everywhere. Texts
-- compare by bytes, as the order of keys must not depend on the language of the database. Readings could
-- be held in native hash partitions of the key; the unique index on replaces would then be a plain one,
-- which is enough since writers stand in line.

-- +goose Up
CREATE TABLE plants (
    key                   text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces              text COLLATE "C" REFERENCES plants (key) DEFERRABLE INITIALLY DEFERRED,
    void                  boolean NOT NULL,
    who                   text COLLATE "C" NOT NULL,
    why                   text COLLATE "C" NOT NULL,
    id                    text COLLATE "C" NOT NULL,
    name                  text COLLATE "C" NOT NULL,
    climate_group         text COLLATE "C" NOT NULL,
    zone                  text COLLATE "C" NOT NULL,
    product               text COLLATE "C" NOT NULL,
    density15_kgm3        double precision,
    reserve_l15           double precision,
    reserve_days          bigint,
    risk_target           double precision,
    assumed_temperature_c double precision,
    warm_to_c             double precision,
    display_volume        text COLLATE "C" NOT NULL,
    display_depth         text COLLATE "C" NOT NULL,
    display_temperature   text COLLATE "C" NOT NULL,
    fiscal_year_begins    bigint NOT NULL,
    digest                text COLLATE "C" NOT NULL,
    recorded_ms           bigint NOT NULL
);
CREATE UNIQUE INDEX plants_replaces ON plants (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX plants_identity ON plants (id);

CREATE TABLE routes (
    key           text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces      text COLLATE "C" REFERENCES routes (key) DEFERRABLE INITIALLY DEFERRED,
    void          boolean NOT NULL,
    who           text COLLATE "C" NOT NULL,
    why           text COLLATE "C" NOT NULL,
    id            text COLLATE "C" NOT NULL,
    mode          text COLLATE "C" NOT NULL,
    supplier      text COLLATE "C" NOT NULL,
    fallback      boolean NOT NULL,
    lead_days     double precision NOT NULL,
    lead_sd_days  double precision NOT NULL,
    slip_days     double precision NOT NULL,
    slip_sd_days  double precision NOT NULL,
    lot_min_l15   double precision NOT NULL,
    lot_max_l15   double precision NOT NULL,
    lot_step_l15  double precision NOT NULL,
    price_per_l15 double precision NOT NULL,
    currency      text COLLATE "C" NOT NULL,
    digest        text COLLATE "C" NOT NULL,
    recorded_ms   bigint NOT NULL
);
CREATE UNIQUE INDEX routes_replaces ON routes (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX routes_identity ON routes (id);

CREATE TABLE services (
    key         text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces    text COLLATE "C" REFERENCES services (key) DEFERRABLE INITIALLY DEFERRED,
    void        boolean NOT NULL,
    who         text COLLATE "C" NOT NULL,
    why         text COLLATE "C" NOT NULL,
    plant       text COLLATE "C" NOT NULL,
    route       text COLLATE "C" NOT NULL,
    digest      text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL
);
CREATE UNIQUE INDEX services_replaces ON services (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX services_identity ON services (plant, route);

CREATE TABLE windows (
    key            text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces       text COLLATE "C" REFERENCES windows (key) DEFERRABLE INITIALLY DEFERRED,
    void           boolean NOT NULL,
    who            text COLLATE "C" NOT NULL,
    why            text COLLATE "C" NOT NULL,
    route          text COLLATE "C" NOT NULL,
    name           text COLLATE "C" NOT NULL,
    year           bigint NOT NULL,
    opens          text COLLATE "C" NOT NULL,
    opens_sd_days  double precision NOT NULL,
    closes         text COLLATE "C" NOT NULL,
    closes_sd_days double precision NOT NULL,
    fail_chance    double precision NOT NULL,
    order_by       text COLLATE "C",
    digest         text COLLATE "C" NOT NULL,
    recorded_ms    bigint NOT NULL
);
CREATE UNIQUE INDEX windows_replaces ON windows (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX windows_identity ON windows (route, name, year);

CREATE TABLE tanks (
    key                text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces           text COLLATE "C" REFERENCES tanks (key) DEFERRABLE INITIALLY DEFERRED,
    void               boolean NOT NULL,
    who                text COLLATE "C" NOT NULL,
    why                text COLLATE "C" NOT NULL,
    plant              text COLLATE "C" NOT NULL,
    id                 text COLLATE "C" NOT NULL,
    role               text COLLATE "C" NOT NULL,
    product            text COLLATE "C" NOT NULL,
    shape              text COLLATE "C" NOT NULL,
    diameter_mm        double precision,
    length_mm          double precision,
    width_mm           double precision,
    height_mm          double precision,
    capacity_l         double precision,
    safe_fill_depth_mm double precision,
    safe_fill_l        double precision,
    suction_depth_mm   double precision,
    unusable_l         double precision,
    out_from           text COLLATE "C",
    back_on            text COLLATE "C",
    digest             text COLLATE "C" NOT NULL,
    recorded_ms        bigint NOT NULL
);
CREATE UNIQUE INDEX tanks_replaces ON tanks (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX tanks_identity ON tanks (plant, id);

CREATE TABLE capacity_points (
    tank_key text COLLATE "C" NOT NULL REFERENCES tanks (key) DEFERRABLE INITIALLY DEFERRED,
    point    bigint NOT NULL,
    depth_mm double precision NOT NULL,
    volume_l double precision NOT NULL,
    PRIMARY KEY (tank_key, point)
);

CREATE TABLE meters (
    key              text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces         text COLLATE "C" REFERENCES meters (key) DEFERRABLE INITIALLY DEFERRED,
    void             boolean NOT NULL,
    who              text COLLATE "C" NOT NULL,
    why              text COLLATE "C" NOT NULL,
    plant            text COLLATE "C" NOT NULL,
    id               text COLLATE "C" NOT NULL,
    digits           bigint NOT NULL,
    litres_per_count double precision NOT NULL,
    factor           double precision NOT NULL,
    compensated      boolean NOT NULL,
    digest           text COLLATE "C" NOT NULL,
    recorded_ms      bigint NOT NULL
);
CREATE UNIQUE INDEX meters_replaces ON meters (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX meters_identity ON meters (plant, id);

CREATE TABLE meter_readings (
    key           text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces      text COLLATE "C" REFERENCES meter_readings (key) DEFERRABLE INITIALLY DEFERRED,
    void          boolean NOT NULL,
    who           text COLLATE "C" NOT NULL,
    why           text COLLATE "C" NOT NULL,
    plant         text COLLATE "C" NOT NULL,
    meter         text COLLATE "C" NOT NULL,
    at_ms         bigint NOT NULL,
    register      double precision NOT NULL,
    temperature_c double precision,
    digest        text COLLATE "C" NOT NULL,
    recorded_ms   bigint NOT NULL
);
CREATE UNIQUE INDEX meter_readings_replaces ON meter_readings (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX meter_readings_time ON meter_readings (plant, at_ms, key);

CREATE TABLE meter_swaps (
    key         text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces    text COLLATE "C" REFERENCES meter_swaps (key) DEFERRABLE INITIALLY DEFERRED,
    void        boolean NOT NULL,
    who         text COLLATE "C" NOT NULL,
    why         text COLLATE "C" NOT NULL,
    plant       text COLLATE "C" NOT NULL,
    meter       text COLLATE "C" NOT NULL,
    at_ms       bigint NOT NULL,
    closing     double precision,
    opening     double precision,
    digest      text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL
);
CREATE UNIQUE INDEX meter_swaps_replaces ON meter_swaps (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX meter_swaps_time ON meter_swaps (plant, at_ms, key);

CREATE TABLE gaugings (
    key           text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces      text COLLATE "C" REFERENCES gaugings (key) DEFERRABLE INITIALLY DEFERRED,
    void          boolean NOT NULL,
    who           text COLLATE "C" NOT NULL,
    why           text COLLATE "C" NOT NULL,
    plant         text COLLATE "C" NOT NULL,
    tank          text COLLATE "C" NOT NULL,
    at_ms         bigint NOT NULL,
    depth_mm      double precision,
    water_mm      double precision,
    volume_l      double precision,
    temperature_c double precision,
    precision_mm  double precision NOT NULL,
    digest        text COLLATE "C" NOT NULL,
    recorded_ms   bigint NOT NULL
);
CREATE UNIQUE INDEX gaugings_replaces ON gaugings (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX gaugings_time ON gaugings (plant, at_ms, key);

CREATE TABLE period_totals (
    key           text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces      text COLLATE "C" REFERENCES period_totals (key) DEFERRABLE INITIALLY DEFERRED,
    void          boolean NOT NULL,
    who           text COLLATE "C" NOT NULL,
    why           text COLLATE "C" NOT NULL,
    plant         text COLLATE "C" NOT NULL,
    first_day     text COLLATE "C" NOT NULL,
    last_day      text COLLATE "C" NOT NULL,
    volume_l      double precision NOT NULL,
    temperature_c double precision,
    basis         text COLLATE "C" NOT NULL,
    digest        text COLLATE "C" NOT NULL,
    recorded_ms   bigint NOT NULL
);
CREATE UNIQUE INDEX period_totals_replaces ON period_totals (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX period_totals_time ON period_totals (plant, last_day, key);

CREATE TABLE deliveries (
    key           text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces      text COLLATE "C" REFERENCES deliveries (key) DEFERRABLE INITIALLY DEFERRED,
    void          boolean NOT NULL,
    who           text COLLATE "C" NOT NULL,
    why           text COLLATE "C" NOT NULL,
    plant         text COLLATE "C" NOT NULL,
    tank          text COLLATE "C" NOT NULL,
    at_ms         bigint NOT NULL,
    volume_l      double precision NOT NULL,
    temperature_c double precision,
    basis         text COLLATE "C" NOT NULL,
    order_id      text COLLATE "C" NOT NULL,
    document      text COLLATE "C" NOT NULL,
    digest        text COLLATE "C" NOT NULL,
    recorded_ms   bigint NOT NULL
);
CREATE UNIQUE INDEX deliveries_replaces ON deliveries (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX deliveries_time ON deliveries (plant, at_ms, key);

CREATE TABLE transfers (
    key           text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces      text COLLATE "C" REFERENCES transfers (key) DEFERRABLE INITIALLY DEFERRED,
    void          boolean NOT NULL,
    who           text COLLATE "C" NOT NULL,
    why           text COLLATE "C" NOT NULL,
    plant         text COLLATE "C" NOT NULL,
    from_tank     text COLLATE "C" NOT NULL,
    to_tank       text COLLATE "C" NOT NULL,
    at_ms         bigint NOT NULL,
    volume_l      double precision NOT NULL,
    temperature_c double precision,
    basis         text COLLATE "C" NOT NULL,
    digest        text COLLATE "C" NOT NULL,
    recorded_ms   bigint NOT NULL
);
CREATE UNIQUE INDEX transfers_replaces ON transfers (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX transfers_time ON transfers (plant, at_ms, key);

CREATE TABLE draws (
    key           text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces      text COLLATE "C" REFERENCES draws (key) DEFERRABLE INITIALLY DEFERRED,
    void          boolean NOT NULL,
    who           text COLLATE "C" NOT NULL,
    why           text COLLATE "C" NOT NULL,
    plant         text COLLATE "C" NOT NULL,
    first_day     text COLLATE "C" NOT NULL,
    last_day      text COLLATE "C" NOT NULL,
    volume_l      double precision NOT NULL,
    temperature_c double precision,
    basis         text COLLATE "C" NOT NULL,
    purpose       text COLLATE "C" NOT NULL,
    digest        text COLLATE "C" NOT NULL,
    recorded_ms   bigint NOT NULL
);
CREATE UNIQUE INDEX draws_replaces ON draws (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX draws_time ON draws (plant, last_day, key);

CREATE TABLE orders (
    key           text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces      text COLLATE "C" REFERENCES orders (key) DEFERRABLE INITIALLY DEFERRED,
    void          boolean NOT NULL,
    who           text COLLATE "C" NOT NULL,
    why           text COLLATE "C" NOT NULL,
    plant         text COLLATE "C" NOT NULL,
    id            text COLLATE "C" NOT NULL,
    route         text COLLATE "C" NOT NULL,
    state         text COLLATE "C" NOT NULL,
    ordered_on    text COLLATE "C" NOT NULL,
    early         text COLLATE "C" NOT NULL,
    likely        text COLLATE "C" NOT NULL,
    late          text COLLATE "C" NOT NULL,
    volume_l      double precision NOT NULL,
    temperature_c double precision,
    basis         text COLLATE "C" NOT NULL,
    digest        text COLLATE "C" NOT NULL,
    recorded_ms   bigint NOT NULL
);
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
