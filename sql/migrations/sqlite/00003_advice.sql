-- Advice as it was issued, never overwritten.
-- seed holds the 64 bits of an unsigned number as a signed one; body is JSON.

-- +goose Up
CREATE TABLE advice (
    plant          TEXT NOT NULL,
    as_of          TEXT NOT NULL,
    model_version  TEXT NOT NULL,
    inputs_version TEXT NOT NULL,
    seed           INTEGER NOT NULL,
    issued_ms      INTEGER NOT NULL,
    body           TEXT NOT NULL,
    PRIMARY KEY (plant, as_of, model_version, inputs_version, seed)
) STRICT;
CREATE TRIGGER advice_no_update BEFORE UPDATE ON advice BEGIN SELECT RAISE(ABORT, 'issued advice is never changed'); END;
CREATE TRIGGER advice_no_delete BEFORE DELETE ON advice BEGIN SELECT RAISE(ABORT, 'issued advice is never deleted'); END;

-- +goose Down
DROP TABLE advice;
