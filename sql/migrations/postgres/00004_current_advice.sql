-- Which advice is in force, for each plant and seed; the plant '' stands for the fleet's budget. The
-- row is moved on with each issue. revision counts the moves, so that a reader can ask for what is new.

-- +goose Up
CREATE TABLE current_advice (
    plant          text COLLATE "C" NOT NULL,
    seed           bigint NOT NULL,
    as_of          text COLLATE "C" NOT NULL,
    model_version  text COLLATE "C" NOT NULL,
    inputs_version text COLLATE "C" NOT NULL,
    issued_ms      bigint NOT NULL,
    revision       bigint NOT NULL,
    PRIMARY KEY (plant, seed),
    FOREIGN KEY (plant, as_of, model_version, inputs_version, seed)
        REFERENCES advice (plant, as_of, model_version, inputs_version, seed)
);
CREATE UNIQUE INDEX current_advice_revision ON current_advice (seed, revision);

-- +goose Down
DROP TABLE current_advice;
