-- What became of each window in past years, and the lags between those dates and the window's own.

-- +goose Up
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
CREATE UNIQUE INDEX past_windows_replaces ON past_windows (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX past_windows_identity ON past_windows (route, name, year);
CREATE UNIQUE INDEX past_windows_position ON past_windows (position);
CREATE TRIGGER past_windows_no_update BEFORE UPDATE ON past_windows BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;
CREATE TRIGGER past_windows_no_delete BEFORE DELETE ON past_windows BEGIN SELECT RAISE(ABORT, 'ledger rows are never deleted'); END;

CREATE VIEW past_windows_in_force AS
SELECT r.route, r.name AS window_name, r.year, r.opens, r.closes, r.failed, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM past_windows AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM past_windows AS later WHERE later.replaces = r.key);

ALTER TABLE windows ADD COLUMN opens_lag_days REAL NOT NULL DEFAULT 0;
ALTER TABLE windows ADD COLUMN opens_lag_sd_days REAL NOT NULL DEFAULT 0;
ALTER TABLE windows ADD COLUMN closes_lag_days REAL NOT NULL DEFAULT 0;
ALTER TABLE windows ADD COLUMN closes_lag_sd_days REAL NOT NULL DEFAULT 0;

DROP VIEW windows_in_force;
CREATE VIEW windows_in_force AS
SELECT r.route, r.name AS window_name, nullif(r.year, 0) AS year, r.opens, r.opens_sd_days, r.closes,
    r.closes_sd_days, r.fail_chance, r.order_by, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded,
    r.opens_lag_days, r.opens_lag_sd_days, r.closes_lag_days, r.closes_lag_sd_days
FROM windows AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM windows AS later WHERE later.replaces = r.key);

-- +goose Down
DROP VIEW windows_in_force;
ALTER TABLE windows DROP COLUMN closes_lag_sd_days;
ALTER TABLE windows DROP COLUMN closes_lag_days;
ALTER TABLE windows DROP COLUMN opens_lag_sd_days;
ALTER TABLE windows DROP COLUMN opens_lag_days;
DROP VIEW past_windows_in_force;
DROP TABLE past_windows;

CREATE VIEW windows_in_force AS
SELECT r.route, r.name AS window_name, nullif(r.year, 0) AS year, r.opens, r.opens_sd_days, r.closes,
    r.closes_sd_days, r.fail_chance, r.order_by, r.key, r.who, r.why,
    strftime('%Y-%m-%d %H:%M:%fZ', r.recorded_ms / 1000.0, 'unixepoch') AS recorded
FROM windows AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM windows AS later WHERE later.replaces = r.key);
