-- One row a strike of the stints in stint_fact: what analysis needs to count by species and to measure lengths.
CREATE TEMP VIEW strike_fact AS
SELECT strike.stint_id, strike.fate, strike.species_id, strike.length_mm, strike.at
FROM strike
WHERE strike.deleted_at IS NULL;
