-- Reports by their keys, and the versions of the ledger.

-- name: InsertReport
INSERT INTO reports (key, digest, recorded_ms)
VALUES ($1, $2, $3);

-- name: ReportDigest
-- One row or none.
SELECT digest
FROM reports
WHERE key = $1;

-- name: LastVersion
-- One row, or none of an empty ledger.
SELECT version, position, recorded_ms
FROM ledger_versions
ORDER BY version DESC
LIMIT 1;

-- name: VersionByTime
-- One row, or none before the first write. Parameter: moment (inclusive).
SELECT version, position, recorded_ms
FROM ledger_versions
WHERE recorded_ms <= $1
ORDER BY recorded_ms DESC, version DESC
LIMIT 1;

-- name: VersionByNumber
-- One row or none.
SELECT version, position, recorded_ms
FROM ledger_versions
WHERE version = $1;

-- name: InsertVersion
-- Parameters: version, its last position, moment.
INSERT INTO ledger_versions (version, position, recorded_ms)
VALUES ($1, $2, $3);

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
