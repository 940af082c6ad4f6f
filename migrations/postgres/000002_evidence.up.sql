-- A run that is recorded is made of so many chunks for ever; what comes later
-- waits apart. Runs that were recorded before are made of what is here: their
-- readers go by the hash in the log.
ALTER TABLE runs
ADD COLUMN chunks integer NOT NULL DEFAULT 0 CHECK (chunks >= 0); -- 0 not frozen

UPDATE runs
SET chunks = (
    SELECT COALESCE(MAX(chunks.number) + 1, 0)
    FROM chunks
    WHERE chunks.club_id = runs.club_id
        AND chunks.bench = runs.bench
        AND chunks.boot = runs.boot
        AND chunks.run = runs.run
)
WHERE closed;

-- Whom a text is about: it is erased with any of them. An empty person says that
-- there may be others, because only one was noted before this table.
CREATE TABLE text_about (
    club_id text COLLATE "C" NOT NULL REFERENCES clubs (club_id),
    text_id text COLLATE "C" NOT NULL,
    person  text COLLATE "C" NOT NULL,
    PRIMARY KEY (club_id, text_id, person)
);

CREATE INDEX text_about_person
ON text_about (club_id, person);

INSERT INTO text_about (club_id, text_id, person)
SELECT club_id, text_id, about
FROM texts
WHERE about <> ''
UNION ALL
SELECT club_id, text_id, ''
FROM texts;

DROP INDEX texts_about;

ALTER TABLE texts
DROP COLUMN about;

-- Texts that were removed alone.
CREATE TABLE text_erasures (
    club_id text COLLATE "C" NOT NULL REFERENCES clubs (club_id),
    text_id text COLLATE "C" NOT NULL,
    at_us   bigint           NOT NULL, -- µs since 1970-01-01 UTC
    PRIMARY KEY (club_id, text_id)
);

-- Erasures whose space in the files is still to be overwritten: a crash may come
-- in between. Those of before are done once more.
CREATE TABLE overwrites (
    overwrite_id bigint           NOT NULL GENERATED ALWAYS AS IDENTITY,
    club_id      text COLLATE "C" NOT NULL REFERENCES clubs (club_id),
    PRIMARY KEY (overwrite_id)
);

INSERT INTO overwrites (club_id)
SELECT DISTINCT club_id
FROM erasures;
