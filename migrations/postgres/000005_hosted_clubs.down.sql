DROP INDEX clubs_host;
ALTER TABLE clubs DROP COLUMN host;
ALTER TABLE clubs DROP COLUMN invited_us;
