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
  grounds  TEXT NOT NULL,       -- how we know
  origin   TEXT NOT NULL,       -- the form, or file, sheet and cell
  batch    TEXT NOT NULL,       -- entries accepted together
  version  INTEGER NOT NULL,
  checksum BLOB NOT NULL        -- SHA-256 of this entry and of the checksum before it
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

-- What was taken out on a person's demand. For a text: of which entry, and
-- which of its facts; for a file: neither.
CREATE TABLE expunged (
  sha256 TEXT NOT NULL,         -- of the value or the file that stood there
  entry  INTEGER REFERENCES entry (arrival),
  n      INTEGER,
  day    TEXT NOT NULL,
  by     TEXT NOT NULL,
  reason TEXT NOT NULL
) STRICT;

-- What follows from the journal, kept for other programs that read this file.

CREATE TABLE skipped (          -- entries struck as mistakes
  entry INTEGER PRIMARY KEY REFERENCES entry (arrival)
) STRICT;

CREATE TABLE doubt (            -- what makes no sense, as of day
  kind    TEXT NOT NULL,
  about   TEXT NOT NULL,
  field   TEXT NOT NULL,
  says    TEXT NOT NULL,
  sides   TEXT NOT NULL,        -- JSON: the values that stand against each other
  entries TEXT NOT NULL,        -- JSON: the ids of the entries they came from
  day     TEXT NOT NULL
) STRICT;

CREATE TABLE as_of (            -- one row; it decides what the views show
  day TEXT                      -- NULL: today
) STRICT;

INSERT INTO as_of VALUES (NULL);
