-- The servers that share this database: each reads events up to some version, and none is
-- written that one of them could not read. A server that ended without leaving is known by
-- its beat, which stands still.
CREATE TABLE servers (
    server text COLLATE "C" PRIMARY KEY,
    beat   bigint NOT NULL,
    reads  jsonb  NOT NULL -- up to which version it reads each kind of event: {"RunRecorded": 2}
);

-- The one row counts up whenever a server comes in. Who writes events says by which count it
-- knows the others.
CREATE TABLE fleet (
    one   boolean PRIMARY KEY DEFAULT true CHECK (one),
    epoch bigint  NOT NULL
);

INSERT INTO fleet (epoch)
VALUES (1);
