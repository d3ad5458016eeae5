-- The ledger's queries. The same text serves every kind of row; the store fills in what differs:
--   {table}     the kind's table
--   {columns}   its columns, key first, without digest and recorded_ms
--   {values}    the parameters of an insertion
--   {identity}  the columns that no two rows in force of the kind share
-- A row is in force when it is not void and no later row replaces it.

-- name: InsertRow
-- Parameters: the columns in order, digest, recorded_ms.
INSERT INTO {table} ({columns}, digest, recorded_ms)
VALUES ({values})
ON CONFLICT (key) DO NOTHING;

-- name: StoredDigest
-- One row or none.
SELECT digest
FROM {table}
WHERE key = $1;

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
-- In order of the identity, which rows in force do not share.
SELECT {columns}
FROM {table} AS r
WHERE NOT r.void
  AND NOT EXISTS (SELECT 1 FROM {table} AS later WHERE later.replaces = r.key)
ORDER BY {identity};

-- name: RowsByTime
-- In order of time, then key. Parameters: plant, start (inclusive), end (exclusive).
SELECT {columns}
FROM {table} AS r
WHERE r.plant = $1
  AND r.at_ms >= $2
  AND r.at_ms < $3
  AND NOT r.void
  AND NOT EXISTS (SELECT 1 FROM {table} AS later WHERE later.replaces = r.key)
ORDER BY r.at_ms, r.key;

-- name: RowsByDay
-- In order of the last day, then key. Parameters: plant, first and last day (inclusive).
SELECT {columns}
FROM {table} AS r
WHERE r.plant = $1
  AND r.last_day >= $2
  AND r.last_day <= $3
  AND NOT r.void
  AND NOT EXISTS (SELECT 1 FROM {table} AS later WHERE later.replaces = r.key)
ORDER BY r.last_day, r.key;

-- name: RowsOfOrders
-- In order of the day of ordering, then key. Parameter: plant.
SELECT {columns}
FROM {table} AS r
WHERE r.plant = $1
  AND NOT r.void
  AND NOT EXISTS (SELECT 1 FROM {table} AS later WHERE later.replaces = r.key)
ORDER BY r.ordered_on, r.key;
