-- Everything that a server keeps. club_id is in every table, so that one
-- database can serve one club or hundreds. COLLATE "C" orders ids by their
-- bytes, as SQLite and Go do, whatever the language of the server.

CREATE TABLE clubs (
    club_id text COLLATE "C" NOT NULL,
    name    text             NOT NULL,
    PRIMARY KEY (club_id)
);

-- The logs. A row is never changed and never removed; the triggers below hold
-- that against every program that reaches the database.
CREATE TABLE events (
    club_id text COLLATE "C" NOT NULL REFERENCES clubs (club_id),
    stream  text COLLATE "C" NOT NULL, -- "club" or "meet/ID"
    seq     bigint           NOT NULL CHECK (seq > 0),
    bytes   bytea            NOT NULL, -- RFC 8785, made once
    hash    bytea            NOT NULL CHECK (length(hash) = 32),
    PRIMARY KEY (club_id, stream, seq)
);

CREATE FUNCTION events_are_kept() RETURNS trigger
LANGUAGE plpgsql
AS $$
BEGIN
    RAISE EXCEPTION 'an event that was written is never changed or removed';
END;
$$;

CREATE TRIGGER events_are_never_changed
BEFORE UPDATE OR DELETE ON events
FOR EACH ROW EXECUTE FUNCTION events_are_kept();

CREATE TRIGGER events_are_never_removed
BEFORE TRUNCATE ON events
FOR EACH STATEMENT EXECUTE FUNCTION events_are_kept();

-- What a command was answered, so that a retry gets the same words.
CREATE TABLE answers (
    club_id text COLLATE "C" NOT NULL REFERENCES clubs (club_id),
    stream  text COLLATE "C" NOT NULL,
    command text COLLATE "C" NOT NULL,
    content bytea            NOT NULL CHECK (length(content) = 32), -- keyed hash
    body    bytea            NOT NULL,                              -- JSON
    PRIMARY KEY (club_id, stream, command)
);

-- What the benches sent, for ever.
CREATE TABLE chunks (
    club_id text COLLATE "C" NOT NULL REFERENCES clubs (club_id),
    bench   text COLLATE "C" NOT NULL,
    boot    text COLLATE "C" NOT NULL,
    run     text COLLATE "C" NOT NULL,
    number  integer          NOT NULL CHECK (number >= 0),
    packed  bytea            NOT NULL, -- stamps
    last    bytea,                     -- totals as JSON, in the last chunk only
    PRIMARY KEY (club_id, bench, boot, run, number)
);

-- Which runs have ended and stand in a log: a cache beside chunks and events,
-- kept so that a start need not read them all to find the runs still to record.
CREATE TABLE runs (
    club_id text COLLATE "C" NOT NULL REFERENCES clubs (club_id),
    bench   text COLLATE "C" NOT NULL,
    boot    text COLLATE "C" NOT NULL,
    run     text COLLATE "C" NOT NULL,
    ended   boolean          NOT NULL DEFAULT false,
    closed  boolean          NOT NULL DEFAULT false,
    PRIMARY KEY (club_id, bench, boot, run)
);

CREATE INDEX runs_open
ON runs (club_id, bench, boot, run)
WHERE ended AND NOT closed;

-- People and free texts can be erased, so nothing refers to them but by id.
CREATE TABLE people (
    club_id      text COLLATE "C" NOT NULL REFERENCES clubs (club_id),
    person       text COLLATE "C" NOT NULL,
    name         text             NOT NULL,
    display_name text             NOT NULL,
    say_as       text             NOT NULL,
    birth_date   text             NOT NULL, -- YYYY-MM-DD or empty
    on_screen    boolean          NOT NULL,
    in_results   boolean          NOT NULL,
    photo        boolean          NOT NULL,
    PRIMARY KEY (club_id, person)
);

CREATE TABLE texts (
    club_id text COLLATE "C" NOT NULL REFERENCES clubs (club_id),
    text_id text COLLATE "C" NOT NULL,
    about   text COLLATE "C" NOT NULL, -- a person, or empty
    salt    bytea            NOT NULL, -- erased with the text, so that its hash in the log cannot be tried out
    text    text             NOT NULL,
    PRIMARY KEY (club_id, text_id)
);

CREATE INDEX texts_about
ON texts (club_id, about);

-- The planner's statistics would keep samples of these columns beyond an
-- erasure.
ALTER TABLE people
    ALTER COLUMN name SET STATISTICS 0,
    ALTER COLUMN display_name SET STATISTICS 0,
    ALTER COLUMN say_as SET STATISTICS 0,
    ALTER COLUMN birth_date SET STATISTICS 0;

ALTER TABLE texts
    ALTER COLUMN salt SET STATISTICS 0,
    ALTER COLUMN text SET STATISTICS 0;

CREATE TABLE erasures (
    club_id text COLLATE "C" NOT NULL REFERENCES clubs (club_id),
    person  text COLLATE "C" NOT NULL,
    at_us   bigint           NOT NULL, -- µs since 1970-01-01 UTC
    PRIMARY KEY (club_id, person)
);

CREATE TABLE tokens (
    club_id    text COLLATE "C" NOT NULL REFERENCES clubs (club_id),
    token_id   text COLLATE "C" NOT NULL,
    hash       bytea            NOT NULL CHECK (length(hash) = 32), -- SHA-256
    role       text             NOT NULL,
    actor      text             NOT NULL,
    benches    text             NOT NULL, -- JSON list of bench ids
    label      text             NOT NULL,
    created_us bigint           NOT NULL, -- µs since 1970-01-01 UTC
    expires_us bigint           NOT NULL, -- 0 never
    revoked_us bigint           NOT NULL, -- 0 not revoked
    PRIMARY KEY (club_id, token_id)
);

-- A secret is looked up by its hash before the club is known.
CREATE UNIQUE INDEX tokens_hash
ON tokens (hash);

-- Random bytes that key hashes. An empty club_id is the database's own secret.
CREATE TABLE secrets (
    club_id text COLLATE "C" NOT NULL DEFAULT '',
    name    text COLLATE "C" NOT NULL,
    bytes   bytea            NOT NULL CHECK (length(bytes) = 32),
    PRIMARY KEY (club_id, name)
);
