-- Which advice is in force, for each plant and seed; the plant '' stands for the fleet's budget. The
-- row is moved on with each issue. revision counts the moves, so that a reader can ask for what is new.

-- +goose Up
CREATE TABLE current_advice (
    plant          TEXT NOT NULL,
    seed           INTEGER NOT NULL,
    as_of          TEXT NOT NULL,
    model_version  TEXT NOT NULL,
    inputs_version TEXT NOT NULL,
    issued_ms      INTEGER NOT NULL,
    revision       INTEGER NOT NULL,
    PRIMARY KEY (plant, seed),
    FOREIGN KEY (plant, as_of, model_version, inputs_version, seed)
        REFERENCES advice (plant, as_of, model_version, inputs_version, seed)
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX current_advice_revision ON current_advice (seed, revision);

-- +goose Down
DROP TABLE current_advice;
