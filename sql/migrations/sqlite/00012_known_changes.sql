-- What a forecast may be told beside readings: changes of a plant's load, and the degree days of a climate group.

-- +goose Up
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
CREATE UNIQUE INDEX load_changes_replaces ON load_changes (replaces) WHERE replaces IS NOT NULL;
CREATE UNIQUE INDEX load_changes_position ON load_changes (position);
CREATE INDEX load_changes_time ON load_changes (plant, from_day, key);
CREATE TRIGGER load_changes_no_update BEFORE UPDATE ON load_changes BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;
CREATE TRIGGER load_changes_no_delete BEFORE DELETE ON load_changes BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

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
CREATE UNIQUE INDEX degree_days_replaces ON degree_days (replaces) WHERE replaces IS NOT NULL;
CREATE UNIQUE INDEX degree_days_position ON degree_days (position);
CREATE INDEX degree_days_time ON degree_days (climate_group, last_day, key);
CREATE TRIGGER degree_days_no_update BEFORE UPDATE ON degree_days BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;
CREATE TRIGGER degree_days_no_delete BEFORE DELETE ON degree_days BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE VIEW load_changes_in_force AS
SELECT r.plant, p.name AS plant_name, r.from_day, r.until_day, r.times, r.added_kw,
    r.uncertainty_percent, r.cause, r.note, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM load_changes AS r
LEFT JOIN plants_in_force AS p ON p.plant = r.plant
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM load_changes AS later WHERE later.replaces = r.key);

CREATE VIEW degree_days_in_force AS
SELECT r.climate_group, r.first_day, r.last_day, r.degree_days_c, r.base_c, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM degree_days AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM degree_days AS later WHERE later.replaces = r.key);

-- +goose Down
DROP VIEW degree_days_in_force;
DROP VIEW load_changes_in_force;
DROP TABLE degree_days;
DROP TABLE load_changes;
