-- 0003_day.sql: what a typed day needs besides its rows. A stint's start may be known only about; what could not be read
-- yet is kept as it was typed; an act of the history has words, and says what it undid or did again.
ALTER TABLE stint ADD COLUMN start_about INTEGER CHECK (start_about IS NULL OR start_about IN (0, 1));

CREATE TABLE unread (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  trip_id TEXT NOT NULL REFERENCES trip (id),
  stint_id TEXT REFERENCES stint (id),
  place TEXT NOT NULL CHECK (place <> ''),
  position INTEGER NOT NULL CHECK (position >= 0),
  text TEXT NOT NULL CHECK (text <> '')
) STRICT;

CREATE INDEX unread_trip ON unread (trip_id);

CREATE TABLE act (
  batch TEXT NOT NULL PRIMARY KEY,
  said TEXT NOT NULL CHECK (said <> ''),
  does TEXT CHECK (does IS NULL OR does IN ('undo', 'redo')),
  of TEXT,
  CHECK ((does IS NULL) = (of IS NULL))
) STRICT, WITHOUT ROWID;
