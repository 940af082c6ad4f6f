DROP TABLE overwrites;
DROP TABLE text_erasures;

ALTER TABLE texts
ADD COLUMN about TEXT NOT NULL DEFAULT '';

UPDATE texts
SET about = COALESCE((
    SELECT MIN(person)
    FROM text_about
    WHERE text_about.club_id = texts.club_id
        AND text_about.text_id = texts.text_id
        AND person <> ''
), '');

CREATE INDEX texts_about
ON texts (club_id, about);

DROP TABLE text_about;

ALTER TABLE runs
DROP COLUMN chunks;
