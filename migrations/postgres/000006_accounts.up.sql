-- An organiser who signs in by a name and a password. The token is the key that the
-- account stands beside: its role, its end and its sessions are the account's.
CREATE TABLE accounts (
    club_id  text COLLATE "C" NOT NULL REFERENCES clubs (club_id),
    token_id text COLLATE "C" NOT NULL,
    name     text COLLATE "C" NOT NULL,
    hash     text             NOT NULL, -- argon2id with its parameters
    set_us   bigint           NOT NULL, -- µs since 1970-01-01 UTC
    PRIMARY KEY (club_id, token_id),
    UNIQUE (club_id, name),
    FOREIGN KEY (club_id, token_id) REFERENCES tokens (club_id, token_id)
);
