-- A file has one server: there is nothing to know of others.
SELECT 1;
