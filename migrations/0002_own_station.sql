-- 0002_own_station.sql: tide and current stations of the user's own, beside those that come with the product. `definition`
-- is JSON: harmonic constants, or offsets against a known station; `source` says where the user has it from.
CREATE TABLE own_station (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  name TEXT NOT NULL CHECK (name <> ''),
  kind TEXT NOT NULL CHECK (kind IN ('tide', 'current')),
  lat REAL NOT NULL CHECK (lat BETWEEN -90 AND 90),
  lon REAL NOT NULL CHECK (lon BETWEEN -180 AND 180),
  definition TEXT NOT NULL CHECK (json_valid(definition)),
  source TEXT CHECK (source <> '')
) STRICT;

CREATE UNIQUE INDEX own_station_name ON own_station (name) WHERE deleted_at IS NULL;
