-- One row per run, one per check of it. The same text on SQLite and PostgreSQL.
-- Times are milliseconds since 1970-01-01 UTC; values are in SI units.
CREATE TABLE runs (
    run_key TEXT NOT NULL PRIMARY KEY,
    run_id TEXT NOT NULL,
    folder TEXT NOT NULL,
    unit_serial TEXT NOT NULL,
    profile_id TEXT NOT NULL,
    stage TEXT NOT NULL,
    kind TEXT NOT NULL,
    started_ms BIGINT NOT NULL,
    ended_ms BIGINT,
    operator TEXT NOT NULL,
    rig TEXT NOT NULL,
    software_version TEXT NOT NULL,
    simulated INTEGER NOT NULL,
    outcome TEXT NOT NULL,
    cause TEXT NOT NULL,
    safe_state TEXT NOT NULL,
    verdict TEXT NOT NULL,
    signed_by TEXT NOT NULL,
    signed_ms BIGINT,
    training INTEGER NOT NULL
);

CREATE TABLE checks (
    run_key TEXT NOT NULL REFERENCES runs (run_key) ON DELETE CASCADE,
    place INTEGER NOT NULL,
    check_id TEXT NOT NULL,
    rail TEXT NOT NULL,
    title TEXT NOT NULL,
    unit TEXT NOT NULL,
    value_si DOUBLE PRECISION,
    expanded_u DOUBLE PRECISION NOT NULL,
    limit_low DOUBLE PRECISION,
    limit_high DOUBLE PRECISION,
    verdict TEXT NOT NULL,
    PRIMARY KEY (run_key, place)
);

CREATE INDEX runs_by_start ON runs (started_ms, run_key);
CREATE INDEX runs_by_unit ON runs (unit_serial, started_ms, run_key);
CREATE INDEX runs_by_type ON runs (profile_id, started_ms, run_key);
CREATE INDEX runs_by_verdict ON runs (verdict, started_ms, run_key);
CREATE INDEX runs_by_type_and_verdict ON runs (profile_id, verdict, started_ms, run_key);
CREATE INDEX runs_by_id ON runs (run_id);
