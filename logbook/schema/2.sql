-- Schema 2: what is derived from the events, a session at a time. All of it can be thrown away and made again.

-- Sessions whose derived rows are out of date or not made yet. Whoever adds an event puts its session here: a trigger would make every
-- insert a statement with a journal of its own.
CREATE TABLE stale (
  session BLOB PRIMARY KEY
) STRICT, WITHOUT ROWID;

CREATE TABLE session (
  id BLOB PRIMARY KEY,
  venue TEXT, peg TEXT,                            -- NULL: not told, here and below
  opened_ms INTEGER,                               -- NULL: every event of it is crossed out
  closed_ms INTEGER,                               -- NULL: open
  last_ms INTEGER,
  east_min INTEGER NOT NULL,                       -- local clock minus UTC
  n_events INTEGER NOT NULL,                       -- lines, crosses and fixes included
  last_seq INTEGER NOT NULL,                       -- the largest of them
  landed INTEGER NOT NULL, lost INTEGER NOT NULL, missed INTEGER NOT NULL,
  foul INTEGER NOT NULL, blank INTEGER NOT NULL, touch INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- One lowering of the rig.
CREATE TABLE wait (
  session BLOB NOT NULL REFERENCES session (id) ON DELETE CASCADE,
  nth INTEGER NOT NULL,                            -- within the session, by its end
  start TEXT NOT NULL,                             -- lower, lift, feed, unknown: what it is counted from
  from_ms INTEGER, to_ms INTEGER NOT NULL,
  is_open INTEGER NOT NULL, is_implied INTEGER NOT NULL,
  outcome TEXT NOT NULL,
  spot TEXT, hook_bait TEXT, species TEXT,
  mass_kg REAL, guess_kg REAL,
  touches INTEGER NOT NULL, net INTEGER NOT NULL,
  PRIMARY KEY (session, nth)
) STRICT, WITHOUT ROWID;

-- One bait of one put-in.
CREATE TABLE put_in (
  session BLOB NOT NULL REFERENCES session (id) ON DELETE CASCADE,
  nth INTEGER NOT NULL,
  at_ms INTEGER NOT NULL,
  spot TEXT, bait TEXT, how TEXT,
  count REAL, volume_m3 REAL, fill_frac REAL, pot_m3 REAL,
  PRIMARY KEY (session, nth)
) STRICT, WITHOUT ROWID;

INSERT INTO stale SELECT DISTINCT session FROM event;
