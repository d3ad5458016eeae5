-- Where each row stands in the order of writing, and the versions of the ledger.
--
-- position counts the rows of all kinds as they were written, without a gap: it is handed out while no other
-- writer is at work. Each write is a version, ledger_versions says up to which position it goes, and so what the
-- ledger was known to be at any version. recorded_ms there is the moment of the write and never goes
-- back from one version to the next, whatever the clocks of the writers say.
--
-- Of rows that are there already, those of one millisecond count as one write; the last of these is at
-- least at the version that the ledger has reached.

-- +goose Up
CREATE TABLE ledger_versions (
    version     bigint NOT NULL PRIMARY KEY,
    position    bigint NOT NULL,
    recorded_ms bigint NOT NULL
);
CREATE INDEX ledger_versions_time ON ledger_versions (recorded_ms, version);

CREATE TABLE written AS
SELECT kind, key, recorded_ms, row_number() OVER (ORDER BY recorded_ms, kind, key) AS position
FROM (
    SELECT 0 AS kind, key, recorded_ms FROM plants UNION ALL
    SELECT 1 AS kind, key, recorded_ms FROM routes UNION ALL
    SELECT 2 AS kind, key, recorded_ms FROM services UNION ALL
    SELECT 3 AS kind, key, recorded_ms FROM windows UNION ALL
    SELECT 4 AS kind, key, recorded_ms FROM tanks UNION ALL
    SELECT 5 AS kind, key, recorded_ms FROM meters UNION ALL
    SELECT 6 AS kind, key, recorded_ms FROM meter_readings UNION ALL
    SELECT 7 AS kind, key, recorded_ms FROM meter_swaps UNION ALL
    SELECT 8 AS kind, key, recorded_ms FROM gaugings UNION ALL
    SELECT 9 AS kind, key, recorded_ms FROM period_totals UNION ALL
    SELECT 10 AS kind, key, recorded_ms FROM deliveries UNION ALL
    SELECT 11 AS kind, key, recorded_ms FROM transfers UNION ALL
    SELECT 12 AS kind, key, recorded_ms FROM draws UNION ALL
    SELECT 13 AS kind, key, recorded_ms FROM orders UNION ALL
    SELECT 14 AS kind, key, recorded_ms FROM rounds UNION ALL
    SELECT 15 AS kind, key, recorded_ms FROM meter_provings UNION ALL
    SELECT 16 AS kind, key, recorded_ms FROM count_corrections UNION ALL
    SELECT 17 AS kind, key, recorded_ms FROM product_changes UNION ALL
    SELECT 18 AS kind, key, recorded_ms FROM confirmations
) AS rows_there;
CREATE UNIQUE INDEX written_key ON written (kind, key);

ALTER TABLE plants DISABLE TRIGGER plants_stay;
ALTER TABLE plants ADD COLUMN position bigint;
UPDATE plants SET position = w.position FROM written AS w WHERE w.kind = 0 AND w.key = plants.key;
ALTER TABLE plants ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX plants_position ON plants (position);
ALTER TABLE plants ENABLE TRIGGER plants_stay;

ALTER TABLE routes DISABLE TRIGGER routes_stay;
ALTER TABLE routes ADD COLUMN position bigint;
UPDATE routes SET position = w.position FROM written AS w WHERE w.kind = 1 AND w.key = routes.key;
ALTER TABLE routes ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX routes_position ON routes (position);
ALTER TABLE routes ENABLE TRIGGER routes_stay;

ALTER TABLE services DISABLE TRIGGER services_stay;
ALTER TABLE services ADD COLUMN position bigint;
UPDATE services SET position = w.position FROM written AS w WHERE w.kind = 2 AND w.key = services.key;
ALTER TABLE services ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX services_position ON services (position);
ALTER TABLE services ENABLE TRIGGER services_stay;

ALTER TABLE windows DISABLE TRIGGER windows_stay;
ALTER TABLE windows ADD COLUMN position bigint;
UPDATE windows SET position = w.position FROM written AS w WHERE w.kind = 3 AND w.key = windows.key;
ALTER TABLE windows ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX windows_position ON windows (position);
ALTER TABLE windows ENABLE TRIGGER windows_stay;

ALTER TABLE tanks DISABLE TRIGGER tanks_stay;
ALTER TABLE tanks ADD COLUMN position bigint;
UPDATE tanks SET position = w.position FROM written AS w WHERE w.kind = 4 AND w.key = tanks.key;
ALTER TABLE tanks ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX tanks_position ON tanks (position);
ALTER TABLE tanks ENABLE TRIGGER tanks_stay;

ALTER TABLE meters DISABLE TRIGGER meters_stay;
ALTER TABLE meters ADD COLUMN position bigint;
UPDATE meters SET position = w.position FROM written AS w WHERE w.kind = 5 AND w.key = meters.key;
ALTER TABLE meters ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX meters_position ON meters (position);
ALTER TABLE meters ENABLE TRIGGER meters_stay;

ALTER TABLE meter_readings DISABLE TRIGGER meter_readings_stay;
ALTER TABLE meter_readings ADD COLUMN position bigint;
UPDATE meter_readings SET position = w.position FROM written AS w WHERE w.kind = 6 AND w.key = meter_readings.key;
ALTER TABLE meter_readings ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX meter_readings_position ON meter_readings (position);
ALTER TABLE meter_readings ENABLE TRIGGER meter_readings_stay;

ALTER TABLE meter_swaps DISABLE TRIGGER meter_swaps_stay;
ALTER TABLE meter_swaps ADD COLUMN position bigint;
UPDATE meter_swaps SET position = w.position FROM written AS w WHERE w.kind = 7 AND w.key = meter_swaps.key;
ALTER TABLE meter_swaps ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX meter_swaps_position ON meter_swaps (position);
ALTER TABLE meter_swaps ENABLE TRIGGER meter_swaps_stay;

ALTER TABLE gaugings DISABLE TRIGGER gaugings_stay;
ALTER TABLE gaugings ADD COLUMN position bigint;
UPDATE gaugings SET position = w.position FROM written AS w WHERE w.kind = 8 AND w.key = gaugings.key;
ALTER TABLE gaugings ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX gaugings_position ON gaugings (position);
ALTER TABLE gaugings ENABLE TRIGGER gaugings_stay;

ALTER TABLE period_totals DISABLE TRIGGER period_totals_stay;
ALTER TABLE period_totals ADD COLUMN position bigint;
UPDATE period_totals SET position = w.position FROM written AS w WHERE w.kind = 9 AND w.key = period_totals.key;
ALTER TABLE period_totals ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX period_totals_position ON period_totals (position);
ALTER TABLE period_totals ENABLE TRIGGER period_totals_stay;

ALTER TABLE deliveries DISABLE TRIGGER deliveries_stay;
ALTER TABLE deliveries ADD COLUMN position bigint;
UPDATE deliveries SET position = w.position FROM written AS w WHERE w.kind = 10 AND w.key = deliveries.key;
ALTER TABLE deliveries ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX deliveries_position ON deliveries (position);
ALTER TABLE deliveries ENABLE TRIGGER deliveries_stay;

ALTER TABLE transfers DISABLE TRIGGER transfers_stay;
ALTER TABLE transfers ADD COLUMN position bigint;
UPDATE transfers SET position = w.position FROM written AS w WHERE w.kind = 11 AND w.key = transfers.key;
ALTER TABLE transfers ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX transfers_position ON transfers (position);
ALTER TABLE transfers ENABLE TRIGGER transfers_stay;

ALTER TABLE draws DISABLE TRIGGER draws_stay;
ALTER TABLE draws ADD COLUMN position bigint;
UPDATE draws SET position = w.position FROM written AS w WHERE w.kind = 12 AND w.key = draws.key;
ALTER TABLE draws ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX draws_position ON draws (position);
ALTER TABLE draws ENABLE TRIGGER draws_stay;

ALTER TABLE orders DISABLE TRIGGER orders_stay;
ALTER TABLE orders ADD COLUMN position bigint;
UPDATE orders SET position = w.position FROM written AS w WHERE w.kind = 13 AND w.key = orders.key;
ALTER TABLE orders ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX orders_position ON orders (position);
ALTER TABLE orders ENABLE TRIGGER orders_stay;

ALTER TABLE rounds DISABLE TRIGGER rounds_stay;
ALTER TABLE rounds ADD COLUMN position bigint;
UPDATE rounds SET position = w.position FROM written AS w WHERE w.kind = 14 AND w.key = rounds.key;
ALTER TABLE rounds ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX rounds_position ON rounds (position);
ALTER TABLE rounds ENABLE TRIGGER rounds_stay;

ALTER TABLE meter_provings DISABLE TRIGGER meter_provings_stay;
ALTER TABLE meter_provings ADD COLUMN position bigint;
UPDATE meter_provings SET position = w.position FROM written AS w WHERE w.kind = 15 AND w.key = meter_provings.key;
ALTER TABLE meter_provings ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX meter_provings_position ON meter_provings (position);
ALTER TABLE meter_provings ENABLE TRIGGER meter_provings_stay;

ALTER TABLE count_corrections DISABLE TRIGGER count_corrections_stay;
ALTER TABLE count_corrections ADD COLUMN position bigint;
UPDATE count_corrections SET position = w.position FROM written AS w WHERE w.kind = 16 AND w.key = count_corrections.key;
ALTER TABLE count_corrections ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX count_corrections_position ON count_corrections (position);
ALTER TABLE count_corrections ENABLE TRIGGER count_corrections_stay;

ALTER TABLE product_changes DISABLE TRIGGER product_changes_stay;
ALTER TABLE product_changes ADD COLUMN position bigint;
UPDATE product_changes SET position = w.position FROM written AS w WHERE w.kind = 17 AND w.key = product_changes.key;
ALTER TABLE product_changes ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX product_changes_position ON product_changes (position);
ALTER TABLE product_changes ENABLE TRIGGER product_changes_stay;

ALTER TABLE confirmations DISABLE TRIGGER confirmations_stay;
ALTER TABLE confirmations ADD COLUMN position bigint;
UPDATE confirmations SET position = w.position FROM written AS w WHERE w.kind = 18 AND w.key = confirmations.key;
ALTER TABLE confirmations ALTER COLUMN position SET NOT NULL;
CREATE UNIQUE INDEX confirmations_position ON confirmations (position);
ALTER TABLE confirmations ENABLE TRIGGER confirmations_stay;

INSERT INTO ledger_versions (version, position, recorded_ms)
SELECT row_number() OVER (ORDER BY w.recorded_ms) + shift.by, max(w.position), w.recorded_ms
FROM written AS w
CROSS JOIN (
    SELECT CASE WHEN reached > writes THEN reached - writes ELSE 0 END AS by
    FROM (SELECT (SELECT coalesce(max(version), 0) FROM ledger_changes) AS reached, (SELECT count(DISTINCT recorded_ms) FROM written) AS writes) AS counts
) AS shift
GROUP BY w.recorded_ms, shift.by;
DROP TABLE written;
CREATE TRIGGER ledger_versions_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON ledger_versions EXECUTE FUNCTION refuse_change();

-- +goose Down
ALTER TABLE confirmations DROP COLUMN position;
ALTER TABLE product_changes DROP COLUMN position;
ALTER TABLE count_corrections DROP COLUMN position;
ALTER TABLE meter_provings DROP COLUMN position;
ALTER TABLE rounds DROP COLUMN position;
ALTER TABLE orders DROP COLUMN position;
ALTER TABLE draws DROP COLUMN position;
ALTER TABLE transfers DROP COLUMN position;
ALTER TABLE deliveries DROP COLUMN position;
ALTER TABLE period_totals DROP COLUMN position;
ALTER TABLE gaugings DROP COLUMN position;
ALTER TABLE meter_swaps DROP COLUMN position;
ALTER TABLE meter_readings DROP COLUMN position;
ALTER TABLE meters DROP COLUMN position;
ALTER TABLE tanks DROP COLUMN position;
ALTER TABLE windows DROP COLUMN position;
ALTER TABLE services DROP COLUMN position;
ALTER TABLE routes DROP COLUMN position;
ALTER TABLE plants DROP COLUMN position;
DROP TABLE ledger_versions;
