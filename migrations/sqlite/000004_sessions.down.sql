DROP TABLE sessions;
ALTER TABLE tokens DROP COLUMN used_us;
ALTER TABLE tokens DROP COLUMN meet;
