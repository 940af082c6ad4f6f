-- A club that was invited has an address of its own on the server: the path /c/club_id, and
-- a host name where it was given one. 0: never invited.
ALTER TABLE clubs ADD COLUMN invited_us INTEGER NOT NULL DEFAULT 0; -- µs since 1970-01-01 UTC
ALTER TABLE clubs ADD COLUMN host TEXT NOT NULL DEFAULT '';

CREATE UNIQUE INDEX clubs_host
ON clubs (host)
WHERE host <> '';
