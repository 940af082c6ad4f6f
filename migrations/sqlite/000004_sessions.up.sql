-- The meet that a token is for alone; empty for none.
ALTER TABLE tokens ADD COLUMN meet TEXT NOT NULL DEFAULT '';

-- When a program first used a token as it is; 0 never.
ALTER TABLE tokens ADD COLUMN used_us INTEGER NOT NULL DEFAULT 0;

-- Browsers that signed in with a token. The cookie holds a secret of the session's own.
-- Where a token is good for one browser, its session has the token's id.
CREATE TABLE sessions (
    club_id    TEXT    NOT NULL REFERENCES clubs (club_id),
    session_id TEXT    NOT NULL,
    token_id   TEXT    NOT NULL,
    hash       BLOB    NOT NULL CHECK (length(hash) = 32), -- SHA-256
    made_us    INTEGER NOT NULL, -- µs since 1970-01-01 UTC
    seen_us    INTEGER NOT NULL,
    ended_us   INTEGER NOT NULL, -- 0 not ended
    PRIMARY KEY (club_id, session_id),
    FOREIGN KEY (club_id, token_id) REFERENCES tokens (club_id, token_id)
) STRICT;

-- A secret is looked up by its hash before the club is known.
CREATE UNIQUE INDEX sessions_hash
ON sessions (hash);
