-- One row a stint of everything that analysis may look at. NULL is unknown. Every factor of the catalogue is a column of
-- its own name; where its value can come from several places, `<factor>_source` says which. What only few readers want and
-- all stints are gone through for (`turn`, `rest`) stands in subqueries, so that leaving the column out saves the work.
CREATE TEMP VIEW stint_fact AS
WITH
live_trip AS (SELECT * FROM trip WHERE deleted_at IS NULL),
live_stop AS (SELECT * FROM stop WHERE deleted_at IS NULL),
live_stint AS (SELECT * FROM stint WHERE deleted_at IS NULL),
turn AS (
  SELECT
    id AS stint_id,
    dense_rank() OVER (
      PARTITION BY stop_id
      ORDER BY coalesce(start_at, 0), CASE WHEN start_at IS NULL THEN ordinal END
    ) AS number
  FROM live_stint
),
tally AS (
  SELECT
    stint_id,
    count(*) AS strikes,
    sum(fate IN ('landed', 'lost', 'bitten off', 'hooked')) AS hook_ups,
    sum(fate = 'landed') AS landed,
    sum(fate IN ('struck', 'not landed')) AS hook_up_unclear,
    sum(fate IN ('struck', 'hooked')) AS landing_unclear
  FROM strike
  WHERE deleted_at IS NULL
  GROUP BY stint_id
),
visit AS (
  SELECT DISTINCT live_stop.spot_id, live_trip.date
  FROM live_stop JOIN live_trip ON live_trip.id = live_stop.trip_id
  WHERE live_stop.spot_id IS NOT NULL
),
rest AS (
  SELECT
    spot_id,
    date,
    julianday(date) - julianday(lag(date) OVER (PARTITION BY spot_id ORDER BY date)) AS days
  FROM visit
),
reading AS NOT MATERIALIZED (
  SELECT
    observation.*,
    coalesce(observation.at, live_stint.start_at) AS taken_at,
    coalesce(observation.stop_id, live_stint.stop_id) AS place_id
  FROM observation LEFT JOIN live_stint ON live_stint.id = observation.stint_id
  WHERE observation.deleted_at IS NULL AND (observation.stint_id IS NULL OR live_stint.id IS NOT NULL)
),
imported AS (SELECT * FROM computed WHERE method = 'imported' AND deleted_at IS NULL),
worked_out AS (SELECT * FROM computed WHERE method <> 'imported' AND deleted_at IS NULL)
SELECT
  stint.id AS stint_id,
  stop.id AS stop_id,
  trip.id AS trip_id,
  trip.label AS trip_label,
  trip.date AS trip_date,
  trip.zone AS trip_zone,
  trip.completeness,
  trip.status,
  trip.grouping,
  trip.purpose,
  trip.target_species_id,
  stop.ordinal AS stop_ordinal,
  stop.label AS stop_label,
  stint.ordinal AS stint_ordinal,
  stint.start_at,
  stint.end_at,
  stint.effort_minutes,
  stint.effort_source,
  stint.share_group,
  stint.why_changed,
  trip.recorded,
  stint.notes,
  -- the stop, where comparing two stints of it is fair
  CASE WHEN stop.spot_id IS NOT NULL AND stint.share_group IS NULL THEN stop.id END AS same_stop_id,
  coalesce(
    stint.effort_minutes,
    (stint.end_at - stint.start_at) / 60000.0 - coalesce(stint.break_minutes, 0)
  ) / 60.0 * stint.rods AS rod_hours,

  CASE
    WHEN coalesce(stint.counted_misses, trip.counted_misses)
      AND coalesce(stint.counted_losses, trip.counted_losses)
      AND coalesce(stint.counted_landed, trip.counted_landed)
    THEN coalesce(tally.strikes, 0)
  END AS strikes,
  CASE
    WHEN coalesce(stint.counted_losses, trip.counted_losses)
      AND coalesce(stint.counted_landed, trip.counted_landed)
      AND coalesce(tally.hook_up_unclear, 0) = 0
    THEN coalesce(tally.hook_ups, 0)
  END AS hook_ups,
  CASE
    WHEN coalesce(stint.counted_landed, trip.counted_landed) AND coalesce(tally.landing_unclear, 0) = 0
    THEN coalesce(tally.landed, 0)
  END AS landed,
  CASE WHEN coalesce(stint.counted_follows, trip.counted_follows) THEN coalesce(stint.follows, 0) END AS follows,
  CASE WHEN coalesce(stint.counted_hang_ups, trip.counted_hang_ups) THEN coalesce(stint.hang_ups, 0) END AS hang_ups,
  stint.lures_lost,

  lure_class.name AS lure_class,
  lure.name AS lure,
  lure.profile,
  lure.lure_length_mm,
  lure.colour,
  lure.scented,
  lure.lure_sound,
  lure.imitates,
  rig.head_weight_g,
  rig.hook_shank,
  rig.hook_style,
  rig.cork_shape,
  rig.cork_sound,
  rig.cork_drop_mm,
  rig.leader_length_mm,
  rig.leader_strength_n,
  coalesce(stint.bait, rig.bait) AS bait,
  CASE WHEN stint.bait IS NOT NULL THEN 'stint' WHEN rig.bait IS NOT NULL THEN 'presentation' END AS bait_source,
  rig.sink,
  presentation.name AS presentation,
  retrieve.retrieve_style,
  coalesce(stint.actions_per_cycle, retrieve.actions_per_cycle) AS actions_per_cycle,
  CASE WHEN stint.actions_per_cycle IS NOT NULL THEN 'stint' WHEN retrieve.actions_per_cycle IS NOT NULL THEN 'presentation' END AS actions_per_cycle_source,
  coalesce(stint.pause_s, retrieve.pause_s) AS pause_s,
  CASE WHEN stint.pause_s IS NOT NULL THEN 'stint' WHEN retrieve.pause_s IS NOT NULL THEN 'presentation' END AS pause_s_source,
  coalesce(stint.pace, retrieve.pace) AS pace,
  CASE WHEN stint.pace IS NOT NULL THEN 'stint' WHEN retrieve.pace IS NOT NULL THEN 'presentation' END AS pace_source,
  coalesce(stint.rhythm, retrieve.rhythm) AS rhythm,
  CASE WHEN stint.rhythm IS NOT NULL THEN 'stint' WHEN retrieve.rhythm IS NOT NULL THEN 'presentation' END AS rhythm_source,
  coalesce(stint.line, retrieve.line) AS line,
  CASE WHEN stint.line IS NOT NULL THEN 'stint' WHEN retrieve.line IS NOT NULL THEN 'presentation' END AS line_source,
  coalesce(stint.water_column, retrieve.water_column) AS water_column,
  CASE WHEN stint.water_column IS NOT NULL THEN 'stint' WHEN retrieve.water_column IS NOT NULL THEN 'presentation' END AS water_column_source,
  stint.fished_depth_m,
  coalesce(stop.ground, spot.ground) AS ground,
  CASE WHEN stop.ground IS NOT NULL THEN 'stop' WHEN spot.ground IS NOT NULL THEN 'spot' END AS ground_source,
  coalesce(stop.structure, spot.structure) AS structure,
  CASE WHEN stop.structure IS NOT NULL THEN 'stop' WHEN spot.structure IS NOT NULL THEN 'spot' END AS structure_source,
  stop.platform,
  stint.sight,
  spot.name AS spot,
  angler.name AS angler,
  CASE
    WHEN stop.spot_id IS NOT NULL THEN (SELECT turn.number FROM turn WHERE turn.stint_id = stint.id)
  END AS order_in_stop,
  (SELECT rest.days FROM rest WHERE rest.spot_id = stop.spot_id AND rest.date = trip.date) AS days_rested,
  stint.rods,
  /* observed factors: observed.ts */
  coalesce(imported.tide_stage, worked_out.tide_stage) AS tide_stage,
  CASE WHEN imported.tide_stage IS NOT NULL THEN 'imported' WHEN worked_out.tide_stage IS NOT NULL THEN worked_out.method END AS tide_stage_source,
  coalesce(imported.tide_part, worked_out.tide_part) AS tide_part,
  CASE WHEN imported.tide_part IS NOT NULL THEN 'imported' WHEN worked_out.tide_part IS NOT NULL THEN worked_out.method END AS tide_part_source,
  coalesce(imported.tide_phase_rad, worked_out.tide_phase_rad) AS tide_phase_rad,
  CASE WHEN imported.tide_phase_rad IS NOT NULL THEN 'imported' WHEN worked_out.tide_phase_rad IS NOT NULL THEN worked_out.method END AS tide_phase_rad_source,
  coalesce(imported.tide_height_m, worked_out.tide_height_m) AS tide_height_m,
  CASE WHEN imported.tide_height_m IS NOT NULL THEN 'imported' WHEN worked_out.tide_height_m IS NOT NULL THEN worked_out.method END AS tide_height_m_source,
  coalesce(imported.tide_rate_m_h, worked_out.tide_rate_m_h) AS tide_rate_m_h,
  CASE WHEN imported.tide_rate_m_h IS NOT NULL THEN 'imported' WHEN worked_out.tide_rate_m_h IS NOT NULL THEN worked_out.method END AS tide_rate_m_h_source,
  coalesce(imported.tide_range_m, worked_out.tide_range_m) AS tide_range_m,
  CASE WHEN imported.tide_range_m IS NOT NULL THEN 'imported' WHEN worked_out.tide_range_m IS NOT NULL THEN worked_out.method END AS tide_range_m_source,
  coalesce(imported.tide_spring_neap, worked_out.tide_spring_neap) AS tide_spring_neap,
  CASE WHEN imported.tide_spring_neap IS NOT NULL THEN 'imported' WHEN worked_out.tide_spring_neap IS NOT NULL THEN worked_out.method END AS tide_spring_neap_source,
  coalesce(imported.current_stage, worked_out.current_stage) AS current_stage,
  CASE WHEN imported.current_stage IS NOT NULL THEN 'imported' WHEN worked_out.current_stage IS NOT NULL THEN worked_out.method END AS current_stage_source,
  coalesce(imported.current_speed_ms, worked_out.current_speed_ms) AS current_speed_ms,
  CASE WHEN imported.current_speed_ms IS NOT NULL THEN 'imported' WHEN worked_out.current_speed_ms IS NOT NULL THEN worked_out.method END AS current_speed_ms_source,
  coalesce(imported.light, worked_out.light) AS light,
  CASE WHEN imported.light IS NOT NULL THEN 'imported' WHEN worked_out.light IS NOT NULL THEN worked_out.method END AS light_source,
  coalesce(imported.sun_altitude_deg, worked_out.sun_altitude_deg) AS sun_altitude_deg,
  CASE WHEN imported.sun_altitude_deg IS NOT NULL THEN 'imported' WHEN worked_out.sun_altitude_deg IS NOT NULL THEN worked_out.method END AS sun_altitude_deg_source,
  coalesce(imported.moon_illum, worked_out.moon_illum) AS moon_illum,
  CASE WHEN imported.moon_illum IS NOT NULL THEN 'imported' WHEN worked_out.moon_illum IS NOT NULL THEN worked_out.method END AS moon_illum_source,
  coalesce(imported.moon_phase_rad, worked_out.moon_phase_rad) AS moon_phase_rad,
  CASE WHEN imported.moon_phase_rad IS NOT NULL THEN 'imported' WHEN worked_out.moon_phase_rad IS NOT NULL THEN worked_out.method END AS moon_phase_rad_source,
  coalesce(imported.hour_local, worked_out.hour_local) AS hour_local,
  CASE WHEN imported.hour_local IS NOT NULL THEN 'imported' WHEN worked_out.hour_local IS NOT NULL THEN worked_out.method END AS hour_local_source,
  CAST(strftime('%j', trip.date) AS INTEGER) AS day_of_year,
  CAST(strftime('%m', trip.date) AS INTEGER) AS month,
  CAST(strftime('%Y', trip.date) AS INTEGER) AS year
FROM live_stint AS stint
JOIN live_stop AS stop ON stop.id = stint.stop_id
JOIN live_trip AS trip ON trip.id = stop.trip_id
LEFT JOIN tally ON tally.stint_id = stint.id
LEFT JOIN presentation ON presentation.id = stint.presentation_id
LEFT JOIN lure ON lure.id = presentation.lure_id
LEFT JOIN lure_class ON lure_class.id = lure.lure_class_id
LEFT JOIN rig ON rig.id = presentation.rig_id
LEFT JOIN retrieve ON retrieve.id = presentation.retrieve_id
LEFT JOIN spot ON spot.id = stop.spot_id
LEFT JOIN angler ON angler.id = stint.angler_id
LEFT JOIN imported ON imported.stint_id = stint.id
LEFT JOIN worked_out ON worked_out.stint_id = stint.id;
