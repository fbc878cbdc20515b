-- 0001_logbook.sql: the record itself, from anglers and spots to strikes, and the history of every change to it.
-- SI units; instants in UTC milliseconds; NULL is unknown, never zero; rows are marked deleted, not removed. A check of
-- words asks for NULL first: SQLite builds the list anew for every row it looks a word up in.

CREATE TABLE angler (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  name TEXT NOT NULL CHECK (name <> ''),
  code TEXT CHECK (code <> ''),
  notes TEXT CHECK (notes <> '')
) STRICT;

CREATE TABLE spot (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  name TEXT NOT NULL CHECK (name <> ''),
  code TEXT CHECK (code <> ''),
  lat REAL CHECK (lat BETWEEN -90 AND 90),
  lon REAL CHECK (lon BETWEEN -180 AND 180),
  zone TEXT CHECK (zone <> ''),
  ground TEXT CHECK (ground <> ''),
  structure TEXT CHECK (structure <> ''),
  usual_depth_m REAL CHECK (usual_depth_m >= 0),
  tide_station TEXT CHECK (tide_station <> ''),
  current_station TEXT CHECK (current_station <> ''),
  lag_high_min REAL,
  lag_low_min REAL,
  slack_after_high_min REAL,
  slack_after_low_min REAL,
  slack_source TEXT CHECK (slack_source <> ''),
  notes TEXT CHECK (notes <> '')
) STRICT;

CREATE TABLE species (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  name TEXT NOT NULL CHECK (name <> ''),
  code TEXT CHECK (code <> ''),
  length_type TEXT CHECK (length_type IS NULL OR length_type IN ('total', 'fork')),
  own_min_length_mm REAL CHECK (own_min_length_mm > 0),
  own_max_length_mm REAL CHECK (own_max_length_mm > 0),
  own_bag INTEGER CHECK (own_bag >= 0),
  limit_source TEXT CHECK (limit_source <> ''),
  limit_date TEXT CHECK (limit_date <> '')
) STRICT;

CREATE TABLE lure_class (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  name TEXT NOT NULL CHECK (name <> ''),
  code TEXT CHECK (code <> '')
) STRICT;

CREATE TABLE lure (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  lure_class_id TEXT REFERENCES lure_class (id),
  name TEXT CHECK (name <> ''),
  profile TEXT CHECK (profile <> ''),
  lure_length_mm REAL CHECK (lure_length_mm > 0),
  colour TEXT CHECK (colour IS NULL OR colour IN ('light', 'natural', 'dark', 'bright', 'two-tone', 'metallic')),
  scented TEXT CHECK (scented IS NULL OR scented IN ('no', 'yes')),
  lure_sound TEXT CHECK (lure_sound <> ''),
  imitates TEXT CHECK (imitates <> ''),
  price REAL CHECK (price >= 0)
) STRICT;

CREATE TABLE rig (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  name TEXT CHECK (name <> ''),
  head_weight_g REAL CHECK (head_weight_g >= 0),
  hook_shank TEXT CHECK (hook_shank IS NULL OR hook_shank IN ('short', 'long')),
  hook_style TEXT CHECK (hook_style IS NULL OR hook_style IN ('open', 'weedless', 'treble', 'single')),
  cork_shape TEXT CHECK (cork_shape <> ''),
  cork_sound TEXT CHECK (cork_sound <> ''),
  cork_drop_mm REAL CHECK (cork_drop_mm > 0),
  leader_length_mm REAL CHECK (leader_length_mm > 0),
  leader_strength_n REAL CHECK (leader_strength_n > 0),
  bait TEXT CHECK (bait IS NULL OR bait IN ('none', 'tipped', 'live shrimp', 'live fish', 'cut')),
  sink TEXT CHECK (sink IS NULL OR sink IN ('floats', 'suspends', 'slow', 'fast')),
  sink_seconds REAL CHECK (sink_seconds > 0),
  sink_depth_m REAL CHECK (sink_depth_m > 0)
) STRICT;

CREATE TABLE retrieve (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  retrieve_style TEXT CHECK (retrieve_style <> ''),
  actions_per_cycle REAL CHECK (actions_per_cycle > 0),
  pause_s REAL CHECK (pause_s >= 0),
  pace TEXT CHECK (pace IS NULL OR pace IN ('slow', 'medium', 'fast')),
  rhythm TEXT CHECK (rhythm IS NULL OR rhythm IN ('steady', 'broken')),
  line TEXT CHECK (line IS NULL OR line IN ('tight', 'slight slack', 'slack')),
  water_column TEXT CHECK (water_column IS NULL OR water_column IN ('on bottom', 'just off bottom', 'middle', 'upper', 'surface'))
) STRICT;

CREATE TABLE presentation (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  name TEXT NOT NULL CHECK (name <> ''),
  code TEXT CHECK (code <> ''),
  mark TEXT CHECK (length(mark) = 1),
  lure_id TEXT REFERENCES lure (id),
  rig_id TEXT REFERENCES rig (id),
  retrieve_id TEXT REFERENCES retrieve (id),
  retired_at INTEGER
) STRICT;

CREATE TABLE trip (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  label TEXT CHECK (label <> ''),
  date TEXT NOT NULL CHECK (date GLOB '[0-9][0-9][0-9][0-9]-[0-1][0-9]-[0-3][0-9]'),
  zone TEXT NOT NULL CHECK (zone <> ''),
  start_at INTEGER,
  end_at INTEGER CHECK (end_at >= start_at),
  target_species_id TEXT REFERENCES species (id),
  purpose TEXT CHECK (purpose IS NULL OR purpose IN ('own', 'guided', 'scouting', 'teaching')),
  completeness TEXT NOT NULL CHECK (completeness IN ('complete', 'partial', 'catches only')),
  counted_misses INTEGER NOT NULL CHECK (counted_misses IN (0, 1)),
  counted_losses INTEGER NOT NULL CHECK (counted_losses IN (0, 1)),
  counted_follows INTEGER NOT NULL CHECK (counted_follows IN (0, 1)),
  counted_hang_ups INTEGER NOT NULL CHECK (counted_hang_ups IN (0, 1)),
  counted_landed INTEGER NOT NULL CHECK (counted_landed IN (0, 1)),
  recorded TEXT CHECK (recorded IS NULL OR recorded IN ('live', 'card', 'that night', 'later')),
  status TEXT NOT NULL CHECK (status IN ('planned', 'open', 'closed')),
  grouping TEXT NOT NULL CHECK (grouping IN ('said', 'row', 'day')),
  notes TEXT CHECK (notes <> '')
) STRICT;

CREATE TABLE trip_angler (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  trip_id TEXT NOT NULL REFERENCES trip (id),
  angler_id TEXT NOT NULL REFERENCES angler (id)
) STRICT;

CREATE TABLE stop (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  trip_id TEXT NOT NULL REFERENCES trip (id),
  ordinal INTEGER NOT NULL CHECK (ordinal >= 0),
  label TEXT CHECK (label <> ''),
  spot_id TEXT REFERENCES spot (id),
  start_at INTEGER,
  end_at INTEGER CHECK (end_at >= start_at),
  platform TEXT CHECK (platform IS NULL OR platform IN ('anchored', 'held', 'drifting', 'poled', 'kayak', 'wading', 'bank')),
  ground TEXT CHECK (ground <> ''),
  structure TEXT CHECK (structure <> ''),
  why_left TEXT CHECK (why_left <> '')
) STRICT;

CREATE TABLE stint (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  stop_id TEXT NOT NULL REFERENCES stop (id),
  ordinal INTEGER NOT NULL CHECK (ordinal >= 0),
  presentation_id TEXT REFERENCES presentation (id),
  angler_id TEXT REFERENCES angler (id),
  start_at INTEGER,
  end_at INTEGER CHECK (end_at > start_at),
  effort_minutes REAL CHECK (effort_minutes > 0 AND effort_minutes <= 1440),
  break_minutes REAL CHECK (break_minutes >= 0),
  effort_source TEXT CHECK (effort_source IS NULL OR effort_source IN ('clocked', 'ticked', 'shared', 'given')),
  share_group TEXT CHECK (share_group <> ''),
  rods INTEGER NOT NULL CHECK (rods > 0),
  sight TEXT CHECK (sight IS NULL OR sight IN ('blind', 'sight')),
  fished_depth_m REAL CHECK (fished_depth_m >= 0),
  actions_per_cycle REAL CHECK (actions_per_cycle > 0),
  pause_s REAL CHECK (pause_s >= 0),
  pace TEXT CHECK (pace IS NULL OR pace IN ('slow', 'medium', 'fast')),
  rhythm TEXT CHECK (rhythm IS NULL OR rhythm IN ('steady', 'broken')),
  line TEXT CHECK (line IS NULL OR line IN ('tight', 'slight slack', 'slack')),
  water_column TEXT CHECK (water_column IS NULL OR water_column IN ('on bottom', 'just off bottom', 'middle', 'upper', 'surface')),
  bait TEXT CHECK (bait IS NULL OR bait IN ('none', 'tipped', 'live shrimp', 'live fish', 'cut')),
  counted_misses INTEGER CHECK (counted_misses IS NULL OR counted_misses IN (0, 1)),
  counted_losses INTEGER CHECK (counted_losses IS NULL OR counted_losses IN (0, 1)),
  counted_follows INTEGER CHECK (counted_follows IS NULL OR counted_follows IN (0, 1)),
  counted_hang_ups INTEGER CHECK (counted_hang_ups IS NULL OR counted_hang_ups IN (0, 1)),
  counted_landed INTEGER CHECK (counted_landed IS NULL OR counted_landed IN (0, 1)),
  follows INTEGER CHECK (follows >= 0),
  hang_ups INTEGER CHECK (hang_ups >= 0),
  lures_lost INTEGER CHECK (lures_lost >= 0),
  why_changed TEXT CHECK (why_changed IS NULL OR why_changed IN ('planned', 'slow', 'lost or fouled', 'moved', 'saw something')),
  notes TEXT CHECK (notes <> '')
) STRICT;

CREATE TABLE strike (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  stint_id TEXT NOT NULL REFERENCES stint (id),
  ordinal INTEGER NOT NULL CHECK (ordinal >= 0),
  fate TEXT NOT NULL CHECK (fate IN ('missed', 'lost', 'bitten off', 'landed', 'struck', 'hooked', 'not landed')),
  species_id TEXT REFERENCES species (id),
  at INTEGER,
  took_on TEXT CHECK (took_on IS NULL OR took_on IN ('fall', 'pause', 'move')),
  length_mm REAL CHECK (length_mm > 0),
  weight_g REAL CHECK (weight_g > 0),
  kept INTEGER CHECK (kept IS NULL OR kept IN (0, 1)),
  hooked_where TEXT CHECK (hooked_where <> '')
) STRICT;

CREATE TABLE observation (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  trip_id TEXT NOT NULL REFERENCES trip (id),
  stop_id TEXT REFERENCES stop (id),
  stint_id TEXT REFERENCES stint (id),
  at INTEGER,
  source TEXT NOT NULL CHECK (source IN ('seen', 'instrument', 'imported')),
  water_temp_c REAL CHECK (water_temp_c BETWEEN -3 AND 45),
  visibility TEXT CHECK (visibility IS NULL OR visibility IN ('clear', 'slightly stained', 'stained', 'muddy')),
  water_colour TEXT CHECK (water_colour <> ''),
  secchi_cm REAL CHECK (secchi_cm >= 0),
  salinity_psu REAL CHECK (salinity_psu BETWEEN 0 AND 45),
  water_depth_m REAL CHECK (water_depth_m >= 0),
  water_movement TEXT CHECK (water_movement IS NULL OR water_movement IN ('still', 'easy', 'good', 'ripping')),
  bank_water TEXT CHECK (bank_water <> ''),
  wind_speed_ms REAL CHECK (wind_speed_ms BETWEEN 0 AND 100),
  wind_dir_deg REAL CHECK (wind_dir_deg BETWEEN 0 AND 360),
  cloud_okta REAL CHECK (cloud_okta BETWEEN 0 AND 9),
  barometer_hpa REAL CHECK (barometer_hpa BETWEEN 850 AND 1100),
  barometer_3h_hpa REAL CHECK (barometer_3h_hpa BETWEEN -50 AND 50),
  bait_seen TEXT CHECK (bait_seen <> ''),
  other_boats INTEGER CHECK (other_boats >= 0),
  water_level_m REAL
) STRICT;

CREATE TABLE computed (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  stint_id TEXT NOT NULL REFERENCES stint (id),
  method TEXT NOT NULL CHECK (method <> ''),
  -- what was worked out from, as `core/store/computed.ts` writes it: another place or time makes the row stale
  basis TEXT CHECK (basis <> ''),
  tide_station TEXT CHECK (tide_station <> ''),
  current_station TEXT CHECK (current_station <> ''),
  tide_stage TEXT CHECK (tide_stage IS NULL OR tide_stage IN ('low stand', 'rising', 'high stand', 'falling')),
  tide_part TEXT CHECK (tide_part IS NULL OR tide_part IN ('low stand', 'first of the rise', 'middle of the rise', 'last of the rise', 'high stand', 'first of the fall', 'middle of the fall', 'last of the fall')),
  tide_phase_rad REAL,
  tide_height_m REAL,
  tide_rate_m_h REAL,
  tide_range_m REAL CHECK (tide_range_m >= 0),
  tide_spring_neap REAL CHECK (tide_spring_neap >= 0),
  current_stage TEXT CHECK (current_stage IS NULL OR current_stage IN ('slack before flood', 'flood', 'slack before ebb', 'ebb')),
  current_speed_ms REAL CHECK (current_speed_ms >= 0),
  light TEXT CHECK (light IS NULL OR light IN ('night', 'first light', 'day', 'last light')),
  sun_altitude_deg REAL CHECK (sun_altitude_deg BETWEEN -90 AND 90),
  moon_illum REAL CHECK (moon_illum BETWEEN 0 AND 1),
  moon_phase_rad REAL,
  hour_local REAL CHECK (hour_local >= 0 AND hour_local < 24)
) STRICT;

CREATE TABLE import_batch (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  files TEXT NOT NULL CHECK (files <> ''),
  settings TEXT NOT NULL CHECK (settings <> ''),
  rows_read INTEGER NOT NULL CHECK (rows_read >= 0),
  stints_added INTEGER NOT NULL CHECK (stints_added >= 0),
  readings_added INTEGER NOT NULL CHECK (readings_added >= 0),
  taken_back_at INTEGER
) STRICT;

CREATE TABLE setting (
  id TEXT NOT NULL PRIMARY KEY,
  created_at INTEGER NOT NULL,
  updated_at INTEGER NOT NULL,
  deleted_at INTEGER,
  key TEXT NOT NULL CHECK (key <> ''),
  value TEXT NOT NULL CHECK (value <> '')
) STRICT;

-- What makes the same row of a table, imported again, add nothing: its normalised hash, and the hash of what is left
-- of it without species and counts, by which a second count for one stint is noticed.
CREATE TABLE import_row (
  import_batch_id TEXT NOT NULL REFERENCES import_batch (id),
  hash TEXT NOT NULL,
  stint_hash TEXT NOT NULL,
  line INTEGER NOT NULL,
  PRIMARY KEY (hash, import_batch_id)
) STRICT, WITHOUT ROWID;

-- One entry a row changed; entries of one act share a batch. A new row has neither before nor after: what it was made as
-- is the `before` of its first edit, or the row itself as long as there is none.
CREATE TABLE change (
  id INTEGER NOT NULL PRIMARY KEY,
  at INTEGER NOT NULL,
  batch TEXT NOT NULL,
  entity TEXT NOT NULL,
  entity_id TEXT NOT NULL,
  before TEXT CHECK (json_valid(before)),
  after TEXT CHECK (json_valid(after)),
  CHECK ((before IS NULL) = (after IS NULL))
) STRICT;

CREATE INDEX stop_trip ON stop (trip_id);
CREATE INDEX stop_spot ON stop (spot_id);
CREATE INDEX stint_stop ON stint (stop_id);
CREATE INDEX stint_presentation ON stint (presentation_id);
CREATE INDEX strike_stint ON strike (stint_id);
CREATE INDEX observation_stint ON observation (stint_id) WHERE stint_id IS NOT NULL;
CREATE INDEX observation_trip ON observation (trip_id, at) WHERE stint_id IS NULL OR source <> 'imported';
CREATE INDEX import_row_stint_hash ON import_row (stint_hash);
CREATE INDEX change_batch ON change (batch);
CREATE INDEX change_entity ON change (entity_id);
CREATE UNIQUE INDEX computed_stint ON computed (stint_id, method);
CREATE UNIQUE INDEX trip_angler_pair ON trip_angler (trip_id, angler_id) WHERE deleted_at IS NULL;
CREATE UNIQUE INDEX setting_key ON setting (key) WHERE deleted_at IS NULL;
CREATE UNIQUE INDEX species_name ON species (name) WHERE deleted_at IS NULL;
CREATE UNIQUE INDEX lure_class_name ON lure_class (name) WHERE deleted_at IS NULL;
CREATE UNIQUE INDEX presentation_name ON presentation (name) WHERE deleted_at IS NULL;
CREATE UNIQUE INDEX spot_name ON spot (name) WHERE deleted_at IS NULL;
CREATE UNIQUE INDEX angler_name ON angler (name) WHERE deleted_at IS NULL;
