-- The journal: entries and their facts, never changed once they are in.
-- Days are text (2027-04-12), times are text (RFC 3339), values are JSON.

CREATE TABLE entry (
  arrival  INTEGER PRIMARY KEY, -- counted from 1 in the order of arrival
  id       TEXT NOT NULL UNIQUE,
  stamp    INTEGER NOT NULL,    -- orders entries of the same day
  since    TEXT NOT NULL,       -- from which day its facts hold
  wall     TEXT NOT NULL,       -- the writer's clock
  received TEXT NOT NULL,       -- when it arrived here
  author   TEXT NOT NULL,
  visit    TEXT NOT NULL,
  grounds  TEXT NOT NULL,
  origin   TEXT NOT NULL,
  batch    TEXT NOT NULL,
  version  INTEGER NOT NULL,
  checksum BLOB NOT NULL        -- of this entry and of the checksum before it
) STRICT;

CREATE TABLE fact (
  entry INTEGER NOT NULL REFERENCES entry (arrival),
  n     INTEGER NOT NULL,       -- its place in the entry, from 0
  kind  TEXT NOT NULL,
  key   TEXT NOT NULL,
  field TEXT NOT NULL,
  value TEXT NOT NULL,
  over  TEXT NOT NULL,          -- the entries whose value the writer was shown
  PRIMARY KEY (entry, n)
) STRICT, WITHOUT ROWID;

CREATE INDEX entry_batch ON entry (batch) WHERE batch <> '';
CREATE INDEX entry_received ON entry (received);
