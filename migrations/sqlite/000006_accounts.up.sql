-- An organiser who signs in by a name and a password. The token is the key that the
-- account stands beside: its role, its end and its sessions are the account's.
CREATE TABLE accounts (
    club_id  TEXT    NOT NULL REFERENCES clubs (club_id),
    token_id TEXT    NOT NULL,
    name     TEXT    NOT NULL,
    hash     TEXT    NOT NULL, -- argon2id with its parameters
    set_us   INTEGER NOT NULL, -- µs since 1970-01-01 UTC
    PRIMARY KEY (club_id, token_id),
    UNIQUE (club_id, name),
    FOREIGN KEY (club_id, token_id) REFERENCES tokens (club_id, token_id)
) STRICT;

-- For how long each use by the account keeps the token good; 0 where it ends as it was made to.
ALTER TABLE tokens ADD COLUMN renew_us INTEGER NOT NULL DEFAULT 0;

-- Those of before that were to last for as long as is usual, 30 days.
UPDATE tokens
SET renew_us = 2592000000000
WHERE role = 'organiser'
    AND expires_us = created_us + 2592000000000;
