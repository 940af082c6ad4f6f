ALTER TABLE tokens DROP COLUMN renew_us;
DROP TABLE accounts;
