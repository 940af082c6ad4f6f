-- What can be made anew from the logs and is kept to save time. Rows may be removed
-- at any moment, and each says itself what it was made of.
CREATE TABLE caches (
    club_id TEXT NOT NULL REFERENCES clubs (club_id),
    stream  TEXT NOT NULL,
    name    TEXT NOT NULL,
    body    BLOB NOT NULL,
    PRIMARY KEY (club_id, stream, name)
) STRICT;
