-- The meet that a token is for alone; empty for none.
ALTER TABLE tokens ADD COLUMN meet text NOT NULL DEFAULT '';

-- When a program first used a token as it is; 0 never.
ALTER TABLE tokens ADD COLUMN used_us bigint NOT NULL DEFAULT 0;

-- Browsers that signed in with a token. The cookie holds a secret of the session's own.
-- Where a token is good for one browser, its session has the token's id.
CREATE TABLE sessions (
    club_id    text COLLATE "C" NOT NULL REFERENCES clubs (club_id),
    session_id text COLLATE "C" NOT NULL,
    token_id   text COLLATE "C" NOT NULL,
    hash       bytea            NOT NULL CHECK (length(hash) = 32), -- SHA-256
    made_us    bigint           NOT NULL, -- µs since 1970-01-01 UTC
    seen_us    bigint           NOT NULL,
    ended_us   bigint           NOT NULL, -- 0 not ended
    PRIMARY KEY (club_id, session_id),
    FOREIGN KEY (club_id, token_id) REFERENCES tokens (club_id, token_id)
);

-- A secret is looked up by its hash before the club is known.
CREATE UNIQUE INDEX sessions_hash
ON sessions (hash);
