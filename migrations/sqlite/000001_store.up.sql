-- Everything that a server keeps. club_id is in every table, so that one
-- database can serve one club or hundreds.

CREATE TABLE clubs (
    club_id TEXT NOT NULL,
    name    TEXT NOT NULL,
    PRIMARY KEY (club_id)
) STRICT;

-- The logs. A row is never changed and never removed; the triggers below hold
-- that against every program that opens the file.
CREATE TABLE events (
    club_id TEXT    NOT NULL REFERENCES clubs (club_id),
    stream  TEXT    NOT NULL, -- "club" or "meet/ID"
    seq     INTEGER NOT NULL CHECK (seq > 0),
    bytes   BLOB    NOT NULL, -- RFC 8785, made once
    hash    BLOB    NOT NULL CHECK (length(hash) = 32),
    PRIMARY KEY (club_id, stream, seq)
) STRICT;

CREATE TRIGGER events_are_never_changed
BEFORE UPDATE ON events
BEGIN
    SELECT RAISE(ABORT, 'an event that was written is never changed');
END;

CREATE TRIGGER events_are_never_removed
BEFORE DELETE ON events
BEGIN
    SELECT RAISE(ABORT, 'an event that was written is never removed');
END;

-- INSERT OR REPLACE removes a row without a word to the trigger before.
CREATE TRIGGER events_are_never_replaced
BEFORE INSERT ON events
WHEN EXISTS (
    SELECT 1
    FROM events
    WHERE club_id = NEW.club_id
        AND stream = NEW.stream
        AND seq = NEW.seq
)
BEGIN
    SELECT RAISE(ABORT, 'an event that was written is never replaced');
END;

-- What a command was answered, so that a retry gets the same words.
CREATE TABLE answers (
    club_id TEXT NOT NULL REFERENCES clubs (club_id),
    stream  TEXT NOT NULL,
    command TEXT NOT NULL,
    content BLOB NOT NULL CHECK (length(content) = 32), -- keyed hash
    body    BLOB NOT NULL,                              -- JSON
    PRIMARY KEY (club_id, stream, command)
) STRICT;

-- What the benches sent, for ever.
CREATE TABLE chunks (
    club_id TEXT    NOT NULL REFERENCES clubs (club_id),
    bench   TEXT    NOT NULL,
    boot    TEXT    NOT NULL,
    run     TEXT    NOT NULL,
    number  INTEGER NOT NULL CHECK (number >= 0),
    packed  BLOB    NOT NULL, -- stamps
    last    BLOB,             -- totals as JSON, in the last chunk only
    PRIMARY KEY (club_id, bench, boot, run, number)
) STRICT;

-- Which runs have ended and stand in a log: a cache beside chunks and events,
-- kept so that a start need not read them all to find the runs still to record.
CREATE TABLE runs (
    club_id TEXT    NOT NULL REFERENCES clubs (club_id),
    bench   TEXT    NOT NULL,
    boot    TEXT    NOT NULL,
    run     TEXT    NOT NULL,
    ended   INTEGER NOT NULL DEFAULT 0 CHECK (ended IN (0, 1)),
    closed  INTEGER NOT NULL DEFAULT 0 CHECK (closed IN (0, 1)),
    PRIMARY KEY (club_id, bench, boot, run)
) STRICT;

CREATE INDEX runs_open
ON runs (club_id, bench, boot, run)
WHERE ended = 1 AND closed = 0;

-- People and free texts can be erased, so nothing refers to them but by id.
CREATE TABLE people (
    club_id      TEXT    NOT NULL REFERENCES clubs (club_id),
    person       TEXT    NOT NULL,
    name         TEXT    NOT NULL,
    display_name TEXT    NOT NULL,
    say_as       TEXT    NOT NULL,
    birth_date   TEXT    NOT NULL, -- YYYY-MM-DD or empty
    on_screen    INTEGER NOT NULL CHECK (on_screen IN (0, 1)),
    in_results   INTEGER NOT NULL CHECK (in_results IN (0, 1)),
    photo        INTEGER NOT NULL CHECK (photo IN (0, 1)),
    PRIMARY KEY (club_id, person)
) STRICT;

CREATE TABLE texts (
    club_id TEXT NOT NULL REFERENCES clubs (club_id),
    text_id TEXT NOT NULL,
    about   TEXT NOT NULL, -- a person, or empty
    salt    BLOB NOT NULL, -- erased with the text, so that its hash in the log cannot be tried out
    text    TEXT NOT NULL,
    PRIMARY KEY (club_id, text_id)
) STRICT;

CREATE INDEX texts_about
ON texts (club_id, about);

CREATE TABLE erasures (
    club_id TEXT    NOT NULL REFERENCES clubs (club_id),
    person  TEXT    NOT NULL,
    at_us   INTEGER NOT NULL, -- µs since 1970-01-01 UTC
    PRIMARY KEY (club_id, person)
) STRICT;

CREATE TABLE tokens (
    club_id    TEXT    NOT NULL REFERENCES clubs (club_id),
    token_id   TEXT    NOT NULL,
    hash       BLOB    NOT NULL CHECK (length(hash) = 32), -- SHA-256
    role       TEXT    NOT NULL,
    actor      TEXT    NOT NULL,
    benches    TEXT    NOT NULL, -- JSON list of bench ids
    label      TEXT    NOT NULL,
    created_us INTEGER NOT NULL, -- µs since 1970-01-01 UTC
    expires_us INTEGER NOT NULL, -- 0 never
    revoked_us INTEGER NOT NULL, -- 0 not revoked
    PRIMARY KEY (club_id, token_id)
) STRICT;

-- A secret is looked up by its hash before the club is known.
CREATE UNIQUE INDEX tokens_hash
ON tokens (hash);

-- Random bytes that key hashes. An empty club_id is the database's own secret.
CREATE TABLE secrets (
    club_id TEXT NOT NULL DEFAULT '',
    name    TEXT NOT NULL,
    bytes   BLOB NOT NULL CHECK (length(bytes) = 32),
    PRIMARY KEY (club_id, name)
) STRICT;
