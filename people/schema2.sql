CREATE TABLE feed (             -- an address at which a calendar program reads the dates
  id     TEXT PRIMARY KEY,
  secret BLOB NOT NULL UNIQUE,  -- SHA-256 of what stands in the address
  who    TEXT NOT NULL,
  device TEXT NOT NULL,
  made   INTEGER NOT NULL,
  read   INTEGER NOT NULL
) STRICT;
