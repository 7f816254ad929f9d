-- Schema 1: the events. This file never changes; what comes later is a further step.

-- About this database: 'dev' is the device id, 8 hex digits.
CREATE TABLE about (
  name TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- One line of the journal a row, in the order they came in. The columns beside `line` only repeat what it says, to find it.
CREATE TABLE event (
  nth INTEGER PRIMARY KEY,
  id BLOB NOT NULL CHECK (length(id) = 16),
  digest INTEGER NOT NULL,                         -- of the line, its 64 bits as a signed number
  session BLOB NOT NULL CHECK (length(session) = 16),
  dev INTEGER NOT NULL,
  seq INTEGER NOT NULL,
  kind TEXT NOT NULL,
  at_ms INTEGER NOT NULL,                          -- milliseconds since 1970 UTC
  rec_ms INTEGER NOT NULL,
  line TEXT NOT NULL,                              -- canonical JSON
  UNIQUE (id, digest)                              -- the same id with other bytes is a clash: both are kept
) STRICT;
CREATE INDEX event_by_session ON event (session);

CREATE TRIGGER event_never_changes BEFORE UPDATE ON event BEGIN
  SELECT RAISE(ABORT, 'an event never changes; what was wrong is put right by a further event');
END;
CREATE TRIGGER event_never_goes BEFORE DELETE ON event BEGIN
  SELECT RAISE(ABORT, 'an event is never deleted; `cross` takes it out of the count');
END;
