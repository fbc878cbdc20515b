-- 0006_track.sql: the boat's tracks, as a plotter or a phone recorded them, thinned. `points` is JSON: stretches of points, each
-- [longitude, latitude, UTC ms or null]. What trip a track belongs to follows from its times.
CREATE TABLE track (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  name TEXT CHECK (name <> ''),
  start_at INTEGER,
  end_at INTEGER,
  length_m REAL NOT NULL CHECK (length_m >= 0),
  points TEXT NOT NULL CHECK (json_valid(points)),
  CHECK ((start_at IS NULL) = (end_at IS NULL)),
  CHECK (end_at >= start_at)
) STRICT;

ALTER TABLE import_batch ADD COLUMN tracks_added INTEGER NOT NULL DEFAULT 0 CHECK (tracks_added >= 0);
