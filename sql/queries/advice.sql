-- Advice as it was issued, and which of it is in force.

-- name: InsertAdvice
-- What was issued first stays.
INSERT INTO advice (plant, as_of, model_version, inputs_version, seed, issued_ms, body)
VALUES ($1, $2, $3, $4, $5, $6, $7)
ON CONFLICT (plant, as_of, model_version, inputs_version, seed) DO NOTHING;

-- name: MoveCurrentAdvice
-- Parameters: as InsertAdvice without the body, then the version of the ledger. What counts in less of the
-- ledger leaves it as it is, and so does what is in force already. No clock decides: of two pieces that
-- count in the same, the one that is saved later is in force.
INSERT INTO current_advice (plant, as_of, model_version, inputs_version, seed, issued_ms, ledger_version, revision)
VALUES ($1, $2, $3, $4, $5, $6, $7, (SELECT CAST(coalesce(max(c.revision), 0) + 1 AS bigint) FROM current_advice AS c WHERE c.seed = $5))
ON CONFLICT (plant, seed) DO UPDATE
SET as_of = excluded.as_of, model_version = excluded.model_version, inputs_version = excluded.inputs_version,
    issued_ms = excluded.issued_ms, ledger_version = excluded.ledger_version, revision = excluded.revision
WHERE excluded.ledger_version > current_advice.ledger_version
   OR (excluded.ledger_version = current_advice.ledger_version
       AND (excluded.as_of, excluded.model_version, excluded.inputs_version)
           <> (current_advice.as_of, current_advice.model_version, current_advice.inputs_version));

-- name: AdviceOfPlant
-- Newest first: by the day it is for, then by the moment of issue, then by the rest of the key.
SELECT plant, as_of, model_version, inputs_version, seed, issued_ms, body
FROM advice
WHERE plant = $1
ORDER BY as_of DESC, issued_ms DESC, model_version, inputs_version, seed;

-- name: CurrentAdvice
-- In order of revision. Parameters: seed, revision (exclusive).
SELECT a.plant, a.as_of, a.model_version, a.inputs_version, a.seed, c.issued_ms, a.body, c.ledger_version, c.revision
FROM current_advice AS c
JOIN advice AS a ON a.plant = c.plant AND a.as_of = c.as_of AND a.model_version = c.model_version
    AND a.inputs_version = c.inputs_version AND a.seed = c.seed
WHERE c.seed = $1 AND c.revision > $2
ORDER BY c.revision;

-- name: AdviceInForce
-- In order of plant. Parameter: seed.
SELECT c.plant, c.as_of, c.model_version, c.inputs_version, c.seed, c.issued_ms, c.ledger_version
FROM current_advice AS c
WHERE c.seed = $1
ORDER BY c.plant;

-- name: AdviceRevision
-- One row. Parameter: seed.
SELECT CAST(coalesce(max(c.revision), 0) AS bigint) AS revision
FROM current_advice AS c
WHERE c.seed = $1;
