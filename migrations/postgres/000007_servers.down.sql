DROP TABLE fleet;
DROP TABLE servers;
