-- The ledger's queries. The same text serves every kind of row; the store fills in what differs:
--   {table}     the kind's table
--   {columns}   its columns, key first, without digest, recorded_ms and position
--   {values}    the parameters of an insertion
--   {identity}  the columns that no two rows in force of the kind share
--   {kind}      its name
--   {plant}     the column of r that holds the plant, or '' where the kind is of no plant; {other plant} that of o
-- A row is in force when it is not void and no later row replaces it. What is read is the ledger up to a
-- position in the order of writing: a row that is replaced beyond it was in force there.

-- name: InsertRow
-- Parameters: the columns in order, digest, recorded_ms, position.
INSERT INTO {table} ({columns}, digest, recorded_ms, position)
VALUES ({values})
ON CONFLICT (key) DO NOTHING;

-- name: StoredDigest
-- One row or none, with the key of the row that replaces it, blank for none.
SELECT r.digest, r.position, coalesce((SELECT n.key FROM {table} AS n WHERE n.replaces = r.key), '') AS replaced
FROM {table} AS r
WHERE r.key = $1;

-- name: StoredRow
-- One row or none, in force or not.
SELECT {columns}
FROM {table}
WHERE key = $1;

-- name: Replacement
-- One row or none.
SELECT key
FROM {table}
WHERE replaces = $1;

-- name: LostCorrections
-- New rows that replace what is not there, with what they replace, in order of writing. Parameter: last position
-- before the write.
SELECT r.key, r.replaces
FROM {table} AS r
WHERE r.position > $1
  AND r.replaces IS NOT NULL
  AND NOT EXISTS (SELECT 1 FROM {table} AS o WHERE o.key = r.replaces)
ORDER BY r.position;

-- name: StrayCorrections
-- New rows that replace one of another plant, with what they replace, in order of writing. Parameter: last position
-- before the write.
SELECT r.key, r.replaces
FROM {table} AS r
JOIN {table} AS o ON o.key = r.replaces
WHERE r.position > $1
  AND {other plant} <> {plant}
ORDER BY r.position;

-- name: RingsOfCorrections
-- New rows from which replacing leads back to themselves, with what they replace, in order of writing: all but those
-- from which it leads to a row that replaces nothing, or was there before. Parameter: last position before the
-- write.
WITH RECURSIVE sound (position, key, replaces) AS (
    SELECT r.position, r.key, r.replaces
    FROM {table} AS r
    WHERE r.position > $1
      AND r.replaces IS NOT NULL
      AND NOT EXISTS (SELECT 1 FROM {table} AS o WHERE o.key = r.replaces AND o.position > $1 AND o.replaces IS NOT NULL)
    UNION ALL
    SELECT later.position, later.key, later.replaces
    FROM sound
    JOIN {table} AS later ON later.replaces = sound.key
), ringed (position, key, replaces) AS (
    SELECT r.position, r.key, r.replaces
    FROM {table} AS r
    WHERE r.position > $1
      AND r.replaces IS NOT NULL
    EXCEPT
    SELECT position, key, replaces
    FROM sound
)
SELECT key, replaces
FROM ringed
ORDER BY position;

-- name: SharedIdentities
-- The first and the last key of rows in force that share an identity, in order of the first key.
SELECT min(r.key) AS one, max(r.key) AS other
FROM {table} AS r
WHERE NOT r.void
  AND NOT EXISTS (SELECT 1 FROM {table} AS later WHERE later.replaces = r.key)
GROUP BY {identity}
HAVING count(*) > 1
ORDER BY one;

-- name: DirectoryRows
-- In order of the identity, which rows in force do not share. Parameter: last position.
SELECT {columns}
FROM {table} AS r
WHERE NOT r.void
  AND r.position <= $1
  AND NOT EXISTS (SELECT 1 FROM {table} AS later WHERE later.replaces = r.key AND later.position <= $1)
ORDER BY {identity};

-- name: RowsByTime
-- In order of time, then key. Parameters: last position, plant, start (inclusive), end (exclusive).
SELECT {columns}
FROM {table} AS r
WHERE r.plant = $2
  AND r.at_ms >= $3
  AND r.at_ms < $4
  AND NOT r.void
  AND r.position <= $1
  AND NOT EXISTS (SELECT 1 FROM {table} AS later WHERE later.replaces = r.key AND later.position <= $1)
ORDER BY r.at_ms, r.key;

-- name: RowsByDay
-- In order of the last day, then key. Parameters: last position, plant, first and last day (inclusive).
SELECT {columns}
FROM {table} AS r
WHERE r.plant = $2
  AND r.last_day >= $3
  AND r.last_day <= $4
  AND NOT r.void
  AND r.position <= $1
  AND NOT EXISTS (SELECT 1 FROM {table} AS later WHERE later.replaces = r.key AND later.position <= $1)
ORDER BY r.last_day, r.key;

-- name: RowsOfOrders
-- In order of the day of ordering, then key. Parameters: last position, plant.
SELECT {columns}
FROM {table} AS r
WHERE r.plant = $2
  AND NOT r.void
  AND r.position <= $1
  AND NOT EXISTS (SELECT 1 FROM {table} AS later WHERE later.replaces = r.key AND later.position <= $1)
ORDER BY r.ordered_on, r.key;

-- name: OrdersWritten
-- In order of writing, in force or not. Parameter: plant.
SELECT {columns}, r.recorded_ms
FROM {table} AS r
WHERE r.plant = $1
ORDER BY r.position;

-- name: RowsOfChanges
-- In order of the first day, then key. Parameters: last position, plant.
SELECT {columns}
FROM {table} AS r
WHERE r.plant = $2
  AND NOT r.void
  AND r.position <= $1
  AND NOT EXISTS (SELECT 1 FROM {table} AS later WHERE later.replaces = r.key AND later.position <= $1)
ORDER BY r.from_day, r.key;

-- name: RowsOfGroup
-- Those of a plant's climate group, in order of the last day, then key. Parameters: last position, plant, first and
-- last day (inclusive).
SELECT {columns}
FROM {table} AS r
WHERE r.climate_group = (
        SELECT p.climate_group
        FROM plants AS p
        WHERE p.id = $2
          AND NOT p.void
          AND p.position <= $1
          AND NOT EXISTS (SELECT 1 FROM plants AS later WHERE later.replaces = p.key AND later.position <= $1)
    )
  AND r.last_day >= $3
  AND r.last_day <= $4
  AND NOT r.void
  AND r.position <= $1
  AND NOT EXISTS (SELECT 1 FROM {table} AS later WHERE later.replaces = r.key AND later.position <= $1)
ORDER BY r.last_day, r.key;

-- name: RowsOfPlant
-- In order of the key. Parameters: last position, plant.
SELECT {columns}
FROM {table} AS r
WHERE r.plant = $2
  AND NOT r.void
  AND r.position <= $1
  AND NOT EXISTS (SELECT 1 FROM {table} AS later WHERE later.replaces = r.key AND later.position <= $1)
ORDER BY r.key;

-- name: RowsWritten
-- In order of writing; the store joins the kinds. Parameters: position (exclusive), number of rows.
SELECT *
FROM (
    SELECT r.position, '{kind}' AS kind, r.key, {plant} AS plant, r.replaces, r.void, r.who, r.why, r.recorded_ms
    FROM {table} AS r
    WHERE r.position > $1
    ORDER BY r.position
    LIMIT $2
) AS {table};
