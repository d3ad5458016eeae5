-- What the books need beside readings and movements: rounds, provings, count corrections, changes of product, confirmations of
-- rows that looked wrong, and more of what a delivery, a transfer, a draw, a total, a gauging and a tank may say.

-- +goose Up
CREATE TABLE rounds (
    key                 text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces            text COLLATE "C" REFERENCES rounds (key) DEFERRABLE INITIALLY DEFERRED,
    void                boolean NOT NULL,
    who                 text COLLATE "C" NOT NULL,
    why                 text COLLATE "C" NOT NULL,
    plant               text COLLATE "C" NOT NULL,
    at_ms               bigint NOT NULL,
    filter_bowl         text COLLATE "C" NOT NULL,
    alarms              text COLLATE "C" NOT NULL,
    pump_running        boolean,
    running_hours       double precision,
    energy_register_kwh double precision,
    note                text COLLATE "C" NOT NULL,
    digest              text COLLATE "C" NOT NULL,
    recorded_ms         bigint NOT NULL
);
CREATE UNIQUE INDEX rounds_replaces ON rounds (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX rounds_time ON rounds (plant, at_ms, key);
CREATE TRIGGER rounds_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON rounds EXECUTE FUNCTION refuse_change();

CREATE TABLE meter_provings (
    key         text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces    text COLLATE "C" REFERENCES meter_provings (key) DEFERRABLE INITIALLY DEFERRED,
    void        boolean NOT NULL,
    who         text COLLATE "C" NOT NULL,
    why         text COLLATE "C" NOT NULL,
    plant       text COLLATE "C" NOT NULL,
    meter       text COLLATE "C" NOT NULL,
    at_ms       bigint NOT NULL,
    factor      double precision NOT NULL,
    digest      text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL
);
CREATE UNIQUE INDEX meter_provings_replaces ON meter_provings (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX meter_provings_time ON meter_provings (plant, at_ms, key);
CREATE TRIGGER meter_provings_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON meter_provings EXECUTE FUNCTION refuse_change();

CREATE TABLE count_corrections (
    key           text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces      text COLLATE "C" REFERENCES count_corrections (key) DEFERRABLE INITIALLY DEFERRED,
    void          boolean NOT NULL,
    who           text COLLATE "C" NOT NULL,
    why           text COLLATE "C" NOT NULL,
    plant         text COLLATE "C" NOT NULL,
    product       text COLLATE "C" NOT NULL,
    last_day      text COLLATE "C" NOT NULL,
    volume_l      double precision NOT NULL,
    temperature_c double precision,
    basis         text COLLATE "C" NOT NULL,
    digest        text COLLATE "C" NOT NULL,
    recorded_ms   bigint NOT NULL
);
CREATE UNIQUE INDEX count_corrections_replaces ON count_corrections (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX count_corrections_time ON count_corrections (plant, last_day, key);
CREATE TRIGGER count_corrections_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON count_corrections EXECUTE FUNCTION refuse_change();

CREATE TABLE product_changes (
    key         text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces    text COLLATE "C" REFERENCES product_changes (key) DEFERRABLE INITIALLY DEFERRED,
    void        boolean NOT NULL,
    who         text COLLATE "C" NOT NULL,
    why         text COLLATE "C" NOT NULL,
    plant       text COLLATE "C" NOT NULL,
    tank        text COLLATE "C" NOT NULL,
    at_ms       bigint NOT NULL,
    product     text COLLATE "C" NOT NULL,
    digest      text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL
);
CREATE UNIQUE INDEX product_changes_replaces ON product_changes (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX product_changes_time ON product_changes (plant, at_ms, key);
CREATE TRIGGER product_changes_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON product_changes EXECUTE FUNCTION refuse_change();

CREATE TABLE confirmations (
    key         text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces    text COLLATE "C" REFERENCES confirmations (key) DEFERRABLE INITIALLY DEFERRED,
    void        boolean NOT NULL,
    who         text COLLATE "C" NOT NULL,
    why         text COLLATE "C" NOT NULL,
    plant       text COLLATE "C" NOT NULL,
    of_kind     text COLLATE "C" NOT NULL,
    of_key      text COLLATE "C" NOT NULL,
    digest      text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL
);
CREATE UNIQUE INDEX confirmations_replaces ON confirmations (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX confirmations_plant ON confirmations (plant, key);
CREATE TRIGGER confirmations_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON confirmations EXECUTE FUNCTION refuse_change();

ALTER TABLE tanks ADD COLUMN own_share double precision;
ALTER TABLE gaugings ADD COLUMN moving boolean NOT NULL DEFAULT false;
ALTER TABLE period_totals ADD COLUMN energy_kwh double precision;
ALTER TABLE deliveries ADD COLUMN product text COLLATE "C" NOT NULL DEFAULT '';
ALTER TABLE deliveries ADD COLUMN document_l double precision;
ALTER TABLE deliveries ADD COLUMN document_temperature_c double precision;
ALTER TABLE deliveries ADD COLUMN document_basis text COLLATE "C" NOT NULL DEFAULT '';
ALTER TABLE deliveries ADD COLUMN meter_l double precision;
ALTER TABLE deliveries ADD COLUMN meter_temperature_c double precision;
ALTER TABLE deliveries ADD COLUMN meter_basis text COLLATE "C" NOT NULL DEFAULT '';
ALTER TABLE deliveries ADD COLUMN refused_l double precision;
ALTER TABLE deliveries ADD COLUMN price_per_l double precision;
ALTER TABLE deliveries ADD COLUMN freight double precision;
ALTER TABLE deliveries ADD COLUMN currency text COLLATE "C" NOT NULL DEFAULT '';
ALTER TABLE transfers ADD COLUMN open boolean NOT NULL DEFAULT false;
ALTER TABLE transfers ADD COLUMN planned_stop_ms bigint;
ALTER TABLE draws ADD COLUMN with_whom text COLLATE "C" NOT NULL DEFAULT '';

CREATE VIEW rounds_in_force AS
SELECT r.plant, p.name AS plant_name, ledger_instant(r.at_ms) AS at, plant_clock(r.at_ms, p.zone) AS at_plant,
    r.filter_bowl, r.alarms, r.pump_running, r.running_hours, r.energy_register_kwh, r.note, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
FROM rounds AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM rounds AS later WHERE later.replaces = r.key);

CREATE VIEW meter_provings_in_force AS
SELECT r.plant, p.name AS plant_name, ledger_instant(r.at_ms) AS at, plant_clock(r.at_ms, p.zone) AS at_plant,
    r.meter, r.factor, r.key, r.who, r.why, ledger_instant(r.recorded_ms) AS recorded
FROM meter_provings AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM meter_provings AS later WHERE later.replaces = r.key);

CREATE VIEW count_corrections_in_force AS
SELECT r.plant, p.name AS plant_name, r.product, ledger_day(r.last_day) AS day, r.volume_l, r.temperature_c, r.basis,
    r.key, r.who, r.why, ledger_instant(r.recorded_ms) AS recorded
FROM count_corrections AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM count_corrections AS later WHERE later.replaces = r.key);

CREATE VIEW product_changes_in_force AS
SELECT r.plant, p.name AS plant_name, ledger_instant(r.at_ms) AS at, plant_clock(r.at_ms, p.zone) AS at_plant,
    r.tank, r.product, r.key, r.who, r.why, ledger_instant(r.recorded_ms) AS recorded
FROM product_changes AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM product_changes AS later WHERE later.replaces = r.key);

CREATE VIEW confirmations_in_force AS
SELECT r.plant, p.name AS plant_name, r.of_kind, r.of_key, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
FROM confirmations AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM confirmations AS later WHERE later.replaces = r.key);

CREATE VIEW delivery_figures_in_force AS
SELECT r.plant, p.name AS plant_name, ledger_instant(r.at_ms) AS at, plant_clock(r.at_ms, p.zone) AS at_plant,
    r.tank, r.document, r.product, r.document_l, r.document_temperature_c, r.document_basis, r.meter_l,
    r.meter_temperature_c, r.meter_basis, r.refused_l, r.price_per_l, r.freight, r.currency, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
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
