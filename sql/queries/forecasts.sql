-- Forecasts of consumption as they were issued.

-- name: InsertForecast
-- What was issued first stays.
INSERT INTO forecasts (plant, month, origin, issued_ms, ledger_version, model_version, inputs_version, seed, body)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)
ON CONFLICT (plant, month) DO NOTHING;

-- name: ForecastsOfPlant
-- In order of month. Parameter: plant.
SELECT plant, month, origin, issued_ms, ledger_version, model_version, inputs_version, seed, body
FROM forecasts
WHERE plant = $1
ORDER BY month;
