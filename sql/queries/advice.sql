-- Advice as it was issued.

-- name: InsertAdvice
-- What was issued first stays.
INSERT INTO advice (plant, as_of, model_version, inputs_version, seed, issued_ms, body)
VALUES ($1, $2, $3, $4, $5, $6, $7)
ON CONFLICT (plant, as_of, model_version, inputs_version, seed) DO NOTHING;

-- name: AdviceOfPlant
-- Newest first: by the day it is for, then by the moment of issue, then by the rest of the key.
SELECT plant, as_of, model_version, inputs_version, seed, issued_ms, body
FROM advice
WHERE plant = $1
ORDER BY as_of DESC, issued_ms DESC, model_version, inputs_version, seed;
