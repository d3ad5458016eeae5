-- Forecasts of consumption as they were issued, never overwritten: the first of each plant and month. month is
-- that of the first day forecast, YYYY-MM; origin the day at whose close the forecast begins; body is JSON.
-- seed holds the 64 bits of an unsigned number as a signed one.

-- +goose Up
CREATE TABLE forecasts (
    plant          text COLLATE "C" NOT NULL,
    month          text COLLATE "C" NOT NULL,
    origin         text COLLATE "C" NOT NULL,
    issued_ms      bigint NOT NULL,
    ledger_version bigint NOT NULL,
    model_version  text COLLATE "C" NOT NULL,
    inputs_version text COLLATE "C" NOT NULL,
    seed           bigint NOT NULL,
    body           text COLLATE "C" NOT NULL,
    PRIMARY KEY (plant, month)
);
CREATE TRIGGER forecasts_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON forecasts EXECUTE FUNCTION refuse_change();

-- +goose Down
DROP TABLE forecasts;
