-- 0004_measured_sink.sql: how long a rig with a lure takes to sink to a depth, as measured (a rig's own figures stay where no
-- lure was named), and the scientific names of species.
ALTER TABLE species ADD COLUMN scientific_name TEXT CHECK (scientific_name <> '');

CREATE TABLE sink (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  rig_id TEXT REFERENCES rig (id),
  lure_id TEXT REFERENCES lure (id),
  seconds REAL NOT NULL CHECK (seconds > 0),
  depth_m REAL NOT NULL CHECK (depth_m > 0),
  CHECK (rig_id IS NOT NULL OR lure_id IS NOT NULL)
) STRICT;

CREATE UNIQUE INDEX sink_of ON sink (coalesce(rig_id, ''), coalesce(lure_id, '')) WHERE deleted_at IS NULL;
