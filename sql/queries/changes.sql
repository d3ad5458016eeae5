-- Reports by their keys, and the versions of the ledger.

-- name: InsertReport
INSERT INTO reports (key, digest, recorded_ms)
VALUES ($1, $2, $3);

-- name: ReportDigest
-- One row or none.
SELECT digest
FROM reports
WHERE key = $1;

-- name: LedgerVersion
-- One row.
SELECT CAST(coalesce(max(g.version), 0) AS bigint) AS version
FROM ledger_changes AS g;

-- name: NoteChange
-- Parameters: plant, version.
INSERT INTO ledger_changes (plant, version)
VALUES ($1, $2)
ON CONFLICT (plant) DO UPDATE SET version = excluded.version;

-- name: Changes
-- In order of plant.
SELECT g.plant, g.version
FROM ledger_changes AS g
ORDER BY g.plant;

-- name: CountsIn
-- One row. Parameters: seed, plant.
SELECT NOT EXISTS (
    SELECT 1
    FROM ledger_changes AS g
    WHERE g.plant IN ($2, '')
      AND g.version > coalesce((SELECT c.ledger_version FROM current_advice AS c WHERE c.plant = $2 AND c.seed = $1), -1)
) AS counted;
