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
    version     INTEGER NOT NULL PRIMARY KEY,
    position    INTEGER NOT NULL,
    recorded_ms INTEGER NOT NULL
) STRICT;
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
);
CREATE UNIQUE INDEX written_key ON written (kind, key);

DROP TRIGGER plants_no_update;
ALTER TABLE plants ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE plants SET position = w.position FROM written AS w WHERE w.kind = 0 AND w.key = plants.key;
CREATE UNIQUE INDEX plants_position ON plants (position);
CREATE TRIGGER plants_no_update BEFORE UPDATE ON plants BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER routes_no_update;
ALTER TABLE routes ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE routes SET position = w.position FROM written AS w WHERE w.kind = 1 AND w.key = routes.key;
CREATE UNIQUE INDEX routes_position ON routes (position);
CREATE TRIGGER routes_no_update BEFORE UPDATE ON routes BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER services_no_update;
ALTER TABLE services ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE services SET position = w.position FROM written AS w WHERE w.kind = 2 AND w.key = services.key;
CREATE UNIQUE INDEX services_position ON services (position);
CREATE TRIGGER services_no_update BEFORE UPDATE ON services BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER windows_no_update;
ALTER TABLE windows ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE windows SET position = w.position FROM written AS w WHERE w.kind = 3 AND w.key = windows.key;
CREATE UNIQUE INDEX windows_position ON windows (position);
CREATE TRIGGER windows_no_update BEFORE UPDATE ON windows BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER tanks_no_update;
ALTER TABLE tanks ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE tanks SET position = w.position FROM written AS w WHERE w.kind = 4 AND w.key = tanks.key;
CREATE UNIQUE INDEX tanks_position ON tanks (position);
CREATE TRIGGER tanks_no_update BEFORE UPDATE ON tanks BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER meters_no_update;
ALTER TABLE meters ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE meters SET position = w.position FROM written AS w WHERE w.kind = 5 AND w.key = meters.key;
CREATE UNIQUE INDEX meters_position ON meters (position);
CREATE TRIGGER meters_no_update BEFORE UPDATE ON meters BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER meter_readings_no_update;
ALTER TABLE meter_readings ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE meter_readings SET position = w.position FROM written AS w WHERE w.kind = 6 AND w.key = meter_readings.key;
CREATE UNIQUE INDEX meter_readings_position ON meter_readings (position);
CREATE TRIGGER meter_readings_no_update BEFORE UPDATE ON meter_readings BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER meter_swaps_no_update;
ALTER TABLE meter_swaps ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE meter_swaps SET position = w.position FROM written AS w WHERE w.kind = 7 AND w.key = meter_swaps.key;
CREATE UNIQUE INDEX meter_swaps_position ON meter_swaps (position);
CREATE TRIGGER meter_swaps_no_update BEFORE UPDATE ON meter_swaps BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER gaugings_no_update;
ALTER TABLE gaugings ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE gaugings SET position = w.position FROM written AS w WHERE w.kind = 8 AND w.key = gaugings.key;
CREATE UNIQUE INDEX gaugings_position ON gaugings (position);
CREATE TRIGGER gaugings_no_update BEFORE UPDATE ON gaugings BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER period_totals_no_update;
ALTER TABLE period_totals ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE period_totals SET position = w.position FROM written AS w WHERE w.kind = 9 AND w.key = period_totals.key;
CREATE UNIQUE INDEX period_totals_position ON period_totals (position);
CREATE TRIGGER period_totals_no_update BEFORE UPDATE ON period_totals BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER deliveries_no_update;
ALTER TABLE deliveries ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE deliveries SET position = w.position FROM written AS w WHERE w.kind = 10 AND w.key = deliveries.key;
CREATE UNIQUE INDEX deliveries_position ON deliveries (position);
CREATE TRIGGER deliveries_no_update BEFORE UPDATE ON deliveries BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER transfers_no_update;
ALTER TABLE transfers ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE transfers SET position = w.position FROM written AS w WHERE w.kind = 11 AND w.key = transfers.key;
CREATE UNIQUE INDEX transfers_position ON transfers (position);
CREATE TRIGGER transfers_no_update BEFORE UPDATE ON transfers BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER draws_no_update;
ALTER TABLE draws ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE draws SET position = w.position FROM written AS w WHERE w.kind = 12 AND w.key = draws.key;
CREATE UNIQUE INDEX draws_position ON draws (position);
CREATE TRIGGER draws_no_update BEFORE UPDATE ON draws BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER orders_no_update;
ALTER TABLE orders ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE orders SET position = w.position FROM written AS w WHERE w.kind = 13 AND w.key = orders.key;
CREATE UNIQUE INDEX orders_position ON orders (position);
CREATE TRIGGER orders_no_update BEFORE UPDATE ON orders BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER rounds_no_update;
ALTER TABLE rounds ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE rounds SET position = w.position FROM written AS w WHERE w.kind = 14 AND w.key = rounds.key;
CREATE UNIQUE INDEX rounds_position ON rounds (position);
CREATE TRIGGER rounds_no_update BEFORE UPDATE ON rounds BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER meter_provings_no_update;
ALTER TABLE meter_provings ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE meter_provings SET position = w.position FROM written AS w WHERE w.kind = 15 AND w.key = meter_provings.key;
CREATE UNIQUE INDEX meter_provings_position ON meter_provings (position);
CREATE TRIGGER meter_provings_no_update BEFORE UPDATE ON meter_provings BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER count_corrections_no_update;
ALTER TABLE count_corrections ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE count_corrections SET position = w.position FROM written AS w WHERE w.kind = 16 AND w.key = count_corrections.key;
CREATE UNIQUE INDEX count_corrections_position ON count_corrections (position);
CREATE TRIGGER count_corrections_no_update BEFORE UPDATE ON count_corrections BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER product_changes_no_update;
ALTER TABLE product_changes ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE product_changes SET position = w.position FROM written AS w WHERE w.kind = 17 AND w.key = product_changes.key;
CREATE UNIQUE INDEX product_changes_position ON product_changes (position);
CREATE TRIGGER product_changes_no_update BEFORE UPDATE ON product_changes BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

DROP TRIGGER confirmations_no_update;
ALTER TABLE confirmations ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
UPDATE confirmations SET position = w.position FROM written AS w WHERE w.kind = 18 AND w.key = confirmations.key;
CREATE UNIQUE INDEX confirmations_position ON confirmations (position);
CREATE TRIGGER confirmations_no_update BEFORE UPDATE ON confirmations BEGIN SELECT RAISE(ABORT, 'ledger rows are never changed'); END;

INSERT INTO ledger_versions (version, position, recorded_ms)
SELECT row_number() OVER (ORDER BY w.recorded_ms) + shift.by, max(w.position), w.recorded_ms
FROM written AS w
CROSS JOIN (
    SELECT CASE WHEN reached > writes THEN reached - writes ELSE 0 END AS by
    FROM (SELECT (SELECT coalesce(max(version), 0) FROM ledger_changes) AS reached, (SELECT count(DISTINCT recorded_ms) FROM written) AS writes) AS counts
) AS shift
GROUP BY w.recorded_ms, shift.by;
DROP TABLE written;
CREATE TRIGGER ledger_versions_no_update BEFORE UPDATE ON ledger_versions BEGIN SELECT RAISE(ABORT, 'versions are never changed'); END;
CREATE TRIGGER ledger_versions_no_delete BEFORE DELETE ON ledger_versions BEGIN SELECT RAISE(ABORT, 'versions are never deleted'); END;

-- +goose Down
DROP INDEX confirmations_position;
ALTER TABLE confirmations DROP COLUMN position;
DROP INDEX product_changes_position;
ALTER TABLE product_changes DROP COLUMN position;
DROP INDEX count_corrections_position;
ALTER TABLE count_corrections DROP COLUMN position;
DROP INDEX meter_provings_position;
ALTER TABLE meter_provings DROP COLUMN position;
DROP INDEX rounds_position;
ALTER TABLE rounds DROP COLUMN position;
DROP INDEX orders_position;
ALTER TABLE orders DROP COLUMN position;
DROP INDEX draws_position;
ALTER TABLE draws DROP COLUMN position;
DROP INDEX transfers_position;
ALTER TABLE transfers DROP COLUMN position;
DROP INDEX deliveries_position;
ALTER TABLE deliveries DROP COLUMN position;
DROP INDEX period_totals_position;
ALTER TABLE period_totals DROP COLUMN position;
DROP INDEX gaugings_position;
ALTER TABLE gaugings DROP COLUMN position;
DROP INDEX meter_swaps_position;
ALTER TABLE meter_swaps DROP COLUMN position;
DROP INDEX meter_readings_position;
ALTER TABLE meter_readings DROP COLUMN position;
DROP INDEX meters_position;
ALTER TABLE meters DROP COLUMN position;
DROP INDEX tanks_position;
ALTER TABLE tanks DROP COLUMN position;
DROP INDEX windows_position;
ALTER TABLE windows DROP COLUMN position;
DROP INDEX services_position;
ALTER TABLE services DROP COLUMN position;
DROP INDEX routes_position;
ALTER TABLE routes DROP COLUMN position;
DROP INDEX plants_position;
ALTER TABLE plants DROP COLUMN position;
DROP TABLE ledger_versions;
