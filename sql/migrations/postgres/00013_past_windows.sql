-- What became of each window in past years, and the lags between those dates and the window's own.

-- +goose Up
CREATE TABLE past_windows (
    key         text COLLATE "C" NOT NULL PRIMARY KEY,
    replaces    text COLLATE "C" REFERENCES past_windows (key) DEFERRABLE INITIALLY DEFERRED,
    void        boolean NOT NULL,
    who         text COLLATE "C" NOT NULL,
    why         text COLLATE "C" NOT NULL,
    route       text COLLATE "C" NOT NULL,
    name        text COLLATE "C" NOT NULL,
    year        bigint NOT NULL,
    opens       text COLLATE "C",
    closes      text COLLATE "C",
    failed      boolean NOT NULL,
    digest      text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL,
    position    bigint NOT NULL
);
CREATE UNIQUE INDEX past_windows_replaces ON past_windows (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX past_windows_identity ON past_windows (route, name, year);
CREATE UNIQUE INDEX past_windows_position ON past_windows (position);
CREATE TRIGGER past_windows_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON past_windows EXECUTE FUNCTION refuse_change();

CREATE VIEW past_windows_in_force AS
SELECT r.route, r.name AS window_name, r.year, ledger_day(r.opens) AS opens, ledger_day(r.closes) AS closes, r.failed, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded
FROM past_windows AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM past_windows AS later WHERE later.replaces = r.key);

ALTER TABLE windows ADD COLUMN opens_lag_days double precision NOT NULL DEFAULT 0;
ALTER TABLE windows ADD COLUMN opens_lag_sd_days double precision NOT NULL DEFAULT 0;
ALTER TABLE windows ADD COLUMN closes_lag_days double precision NOT NULL DEFAULT 0;
ALTER TABLE windows ADD COLUMN closes_lag_sd_days double precision NOT NULL DEFAULT 0;

DROP VIEW windows_in_force;
CREATE VIEW windows_in_force AS
SELECT r.route, r.name AS window_name, nullif(r.year, 0) AS year, r.opens, r.opens_sd_days, r.closes,
    r.closes_sd_days, r.fail_chance, r.order_by, r.key, r.who, r.why,
    ledger_instant(r.recorded_ms) AS recorded,
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
    ledger_instant(r.recorded_ms) AS recorded
FROM windows AS r
WHERE NOT r.void AND NOT EXISTS (SELECT 1 FROM windows AS later WHERE later.replaces = r.key);
