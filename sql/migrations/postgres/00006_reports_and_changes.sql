-- Reports by their senders' keys, and how far each plant's rows have moved on.
--
-- A report is what somebody sent at once under a key: digest identifies its content, so that the same
-- report sent again is known whatever has become of its rows since.
--
-- ledger_changes says for each plant, '' for supply routes and windows, at which version of the ledger
-- a row of it was last written; each write is a version. current_advice.ledger_version is the version
-- that the advice in force counts in.

-- +goose Up
CREATE TABLE reports (
    key         text COLLATE "C" NOT NULL PRIMARY KEY,
    digest      text COLLATE "C" NOT NULL,
    recorded_ms bigint NOT NULL
);
CREATE TRIGGER reports_stay BEFORE UPDATE OR DELETE OR TRUNCATE ON reports EXECUTE FUNCTION refuse_change();

CREATE TABLE ledger_changes (
    plant   text COLLATE "C" NOT NULL PRIMARY KEY,
    version bigint NOT NULL
);
CREATE INDEX ledger_changes_version ON ledger_changes (version);
INSERT INTO ledger_changes (plant, version) SELECT DISTINCT id, 1 FROM plants;

ALTER TABLE current_advice ADD COLUMN ledger_version bigint NOT NULL DEFAULT 0;

-- +goose Down
ALTER TABLE current_advice DROP COLUMN ledger_version;
DROP TABLE ledger_changes;
DROP TABLE reports;
