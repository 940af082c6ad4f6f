-- What can be made anew from the logs and is kept to save time. Rows may be removed
-- at any moment, and each says itself what it was made of.
CREATE TABLE caches (
    club_id text COLLATE "C" NOT NULL REFERENCES clubs (club_id),
    stream  text COLLATE "C" NOT NULL,
    name    text COLLATE "C" NOT NULL,
    body    bytea            NOT NULL,
    PRIMARY KEY (club_id, stream, name)
);
