-- Advice as it was issued, never overwritten.
-- seed holds the 64 bits of an unsigned number as a signed one; body is JSON.

-- +goose Up
CREATE TABLE advice (
    plant          text COLLATE "C" NOT NULL,
    as_of          text COLLATE "C" NOT NULL,
    model_version  text COLLATE "C" NOT NULL,
    inputs_version text COLLATE "C" NOT NULL,
    seed           bigint NOT NULL,
    issued_ms      bigint NOT NULL,
    body           text COLLATE "C" NOT NULL,
    PRIMARY KEY (plant, as_of, model_version, inputs_version, seed)
);
CREATE TRIGGER advice_stays BEFORE UPDATE OR DELETE OR TRUNCATE ON advice EXECUTE FUNCTION refuse_change();

-- +goose Down
DROP TABLE advice;
