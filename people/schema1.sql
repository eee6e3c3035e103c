-- Who may come in. Times are milliseconds since 1970, UTC; 0 means never.

CREATE TABLE passphrase (
  one   INTEGER PRIMARY KEY CHECK (one = 1),
  hash  TEXT NOT NULL,          -- $argon2id$v=19$m=...,t=...,p=...$salt$key
  since INTEGER NOT NULL
) STRICT;

CREATE TABLE session (
  id     TEXT PRIMARY KEY,      -- names it on pages; opens nothing
  token  BLOB NOT NULL UNIQUE,  -- SHA-256 of what the phone holds
  who    TEXT NOT NULL,         -- stands under what is written with it
  device TEXT NOT NULL,
  role   TEXT NOT NULL,
  began  INTEGER NOT NULL,
  seen   INTEGER NOT NULL,
  ended  INTEGER NOT NULL,
  why    TEXT NOT NULL
) STRICT;

CREATE TABLE code (             -- lets one phone in, once
  id     TEXT PRIMARY KEY,
  secret BLOB NOT NULL UNIQUE,  -- SHA-256 of what is typed
  who    TEXT NOT NULL,
  device TEXT NOT NULL,
  role   TEXT NOT NULL,
  until  INTEGER NOT NULL
) STRICT;

CREATE TABLE attempt (          -- sign-ins that failed, by whence; "" counts all
  whence TEXT PRIMARY KEY,
  failed INTEGER NOT NULL,
  last   INTEGER NOT NULL
) STRICT;
