-- What a forecast may be told beside readings: changes of a plant's load, and the degree days of a climate group.

-- +goose Up
CREATE TABLE load_changes (
    key                 text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces            text COLLATE "C" REFERENCES load_changes (key) DEFERRABLE INITIALLY DEFERRED,
    void                boolean NOT NULL,
    who                 text COLLATE "C" NOT NULL,
    why                 text COLLATE "C" NOT NULL,
    plant               text COLLATE "C" NOT NULL,
    from_day            text COLLATE "C" NOT NULL,
    until_day           text COLLATE "C",
    times               double precision,
    added_kw            double precision,
    uncertainty_percent double precision,
    cause               text COLLATE "C" NOT NULL,
    note                text COLLATE "C" NOT NULL,
    digest              text COLLATE "C" NOT NULL,
    recorded_ms         bigint NOT NULL,
    position            bigint NOT NULL
);
CREATE UNIQUE INDEX load_changes_replaces ON load_changes (replaces) WHERE replaces IS NOT NULL;
CREATE UNIQUE INDEX load_changes_position ON load_changes (position);
CREATE INDEX load_changes_time ON load_changes (plant, from_day, key);
CREATE TRIGGER load_changes_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON load_changes EXECUTE FUNCTION refuse_change();

CREATE TABLE degree_days (
    key           text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces      text COLLATE "C" REFERENCES degree_days (key) DEFERRABLE INITIALLY DEFERRED,
    void          boolean NOT NULL,
    who           text COLLATE "C" NOT NULL,
    why           text COLLATE "C" NOT NULL,
    climate_group text COLLATE "C" NOT NULL,
    first_day     text COLLATE "C" NOT NULL,
    last_day      text COLLATE "C" NOT NULL,
    degree_days_c double precision NOT NULL,
    base_c        double precision NOT NULL,
    digest        text COLLATE "C" NOT NULL,
    recorded_ms   bigint NOT NULL,
    position      bigint NOT NULL
);
CREATE UNIQUE INDEX degree_days_replaces ON degree_days (replaces) WHERE replaces IS NOT NULL;
CREATE UNIQUE INDEX degree_days_position ON degree_days (position);
CREATE INDEX degree_days_time ON degree_days (climate_group, last_day, key);
CREATE TRIGGER degree_days_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON degree_days EXECUTE FUNCTION refuse_change();

CREATE VIEW load_changes_in_force AS
SELECT r.plant, p.name AS plant_name, ledger_day(r.from_day) AS from_day, ledger_day(r.until_day) AS until_day, r.times, r.added_kw,
    r.uncertainty_percent, r.cause, r.note, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
FROM load_changes AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM load_changes AS later WHERE later.replaces = r.key);

CREATE VIEW degree_days_in_force AS
SELECT r.climate_group, ledger_day(r.first_day) AS first_day, ledger_day(r.last_day) AS last_day, r.degree_days_c, r.base_c, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
FROM degree_days AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM degree_days AS later WHERE later.replaces = r.key);

-- +goose Down
DROP VIEW degree_days_in_force;
DROP VIEW load_changes_in_force;
DROP TABLE degree_days;
DROP TABLE load_changes;
