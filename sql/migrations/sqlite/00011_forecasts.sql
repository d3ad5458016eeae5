-- Forecasts of consumption as they were issued, never overwritten: the first of each plant and month. month is
-- that of the first day forecast, YYYY-MM; origin the day at whose close the forecast begins; body is JSON.
-- seed holds the 64 bits of an unsigned number as a signed one.

-- +goose Up
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
CREATE TRIGGER forecasts_no_update BEFORE UPDATE ON forecasts BEGIN SELECT RAISE(ABORT, 'issued forecasts are never changed'); END;
CREATE TRIGGER forecasts_no_delete BEFORE DELETE ON forecasts BEGIN SELECT RAISE(ABORT, 'issued forecasts are never deleted'); END;

-- +goose Down
DROP TABLE forecasts;
