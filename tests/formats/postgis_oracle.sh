#!/usr/bin/env bash
# PostGIS measures what the program moved, cut, teed and missed: the town and random maps. Which pairs
# belong together is asked of PostGIS too, from the records alone.
. "$(dirname "$0")/postgis_server.sh"
start_server
seed=${LW_TEST_SEED:-$(date +%Y%m%d)}
echo "seed $seed (LW_TEST_SEED replays it)"

# agree WHAT QUERY: the query gives the rows that disagree; there are none.
agree() {
    local rows
    rows=$(query "$2")
    [ -z "$rows" ] || fail "$1: $(head -n 5 <<<"$rows")"
}

# measure SCHEMA: records and result are tables of it.
measure() {
    query "SET client_min_messages = warning; SET search_path = $1, public;
    DROP TABLE IF EXISTS public.ends, public.lines;
    CREATE TABLE public.lines AS SELECT cable_id, (ST_Dump(geom)).geom AS line FROM $1.cables
        WHERE ST_Length(geom) > 0;
    CREATE TABLE public.ends AS SELECT cable_id, ST_StartPoint(line) AS place FROM public.lines
        UNION ALL SELECT cable_id, ST_EndPoint(line) FROM public.lines;
    CREATE INDEX ON public.ends USING gist (place); CREATE INDEX ON public.lines USING gist (line);
    CREATE INDEX ON public.ends (cable_id); CREATE INDEX ON public.lines (cable_id);
    CREATE INDEX ON columns (column_id); CREATE INDEX ON sections (cable_id);
    ANALYZE"
    local path="SET search_path = $1, public;"
    # What was moved was moved by what PostGIS measures between the records.
    agree "end to asset" "$path SELECT m.asset_id, m.moved_m FROM moves m WHERE kind = 'end to asset'
        AND NOT EXISTS (SELECT 1 FROM ends e, columns c WHERE e.cable_id = m.asset_id
            AND c.column_id = m.to_id AND abs(ST_Distance(e.place, c.geom) - m.moved_m) < 1e-6)"
    agree "cut at asset" "$path SELECT m.asset_id, m.moved_m FROM moves m WHERE kind = 'cut at asset'
        AND NOT EXISTS (SELECT 1 FROM lines l, columns c WHERE l.cable_id = m.asset_id
            AND c.column_id = m.to_id AND abs(ST_Distance(l.line, c.geom) - m.moved_m) < 1e-6
            AND ST_Distance(ST_EndPoint(m.geom), c.geom) < 1e-6
            AND ST_Distance(ST_StartPoint(m.geom), ST_ClosestPoint(l.line, ST_StartPoint(m.geom))) < 1e-6)"
    agree "tee assumed" "$path SELECT m.asset_id, m.moved_m FROM moves m WHERE kind = 'tee assumed'
        AND NOT EXISTS (SELECT 1 FROM lines l, ends e WHERE e.cable_id = m.asset_id
            AND l.cable_id = split_part(m.to_id, '@', 1)
            AND abs(ST_Distance(l.line, e.place) - m.moved_m) < 1e-6)"
    agree "gaps" "$path SELECT from_id, to_id, distance_m FROM gaps g
        WHERE abs(ST_Length(geom) - distance_m) > 1e-6"
    agree "gap to an asset" "$path SELECT from_id, to_id, distance_m FROM gaps g JOIN columns c
        ON c.column_id IN (g.from_id, g.to_id) WHERE NOT EXISTS (SELECT 1 FROM ends e
            WHERE abs(ST_Distance(e.place, c.geom) - g.distance_m) < 1e-6
            AND e.cable_id IN (split_part(g.from_id, '@', 1), split_part(g.to_id, '@', 1)))"
    # (The last half metre before a joint of that cable is the joint's, not the cable's.)
    agree "gap to a cable" "$path SELECT from_id, to_id, distance_m FROM gaps g WHERE NOT EXISTS
        (SELECT 1 FROM columns c WHERE c.column_id IN (g.from_id, g.to_id)) AND NOT EXISTS
        (SELECT 1 FROM ends e JOIN lines l ON e.cable_id <> l.cable_id
            AND g.distance_m - ST_Distance(e.place, l.line) BETWEEN -1e-6 AND 0.5
            AND ST_Distance(ST_EndPoint(g.geom), l.line) < 1e-6
            AND ST_Distance(ST_StartPoint(g.geom), e.place) < 1e-6
            AND e.cable_id = split_part(g.from_id, '@', 1)
            AND l.cable_id = split_part(g.to_id, '@', 1))"
    # A cut lies where PostGIS locates the foot of that move (a column in the bend of a cable has two
    # nearest points): the share of the first piece, from the end with the smaller (x, y). Lengths are
    # of the ellipsoid, so shares agree to some millionths.
    agree "place of a cut" "$path SELECT m.asset_id, s.length_m FROM moves m
        JOIN lines l ON l.cable_id = m.asset_id
        JOIN columns c ON c.column_id = m.to_id
        JOIN sections s ON s.cable_id = m.asset_id AND s.part = 1
        WHERE m.kind = 'cut at asset' AND (SELECT count(*) FROM sections t WHERE t.cable_id = m.asset_id) = 2
        AND abs(s.length_m / (SELECT sum(length_m) FROM sections t WHERE t.cable_id = m.asset_id) -
            CASE WHEN (ST_X(ST_StartPoint(l.line)), ST_Y(ST_StartPoint(l.line))) <
                      (ST_X(ST_EndPoint(l.line)), ST_Y(ST_EndPoint(l.line)))
                 THEN ST_LineLocatePoint(l.line, ST_StartPoint(m.geom))
                 ELSE 1 - ST_LineLocatePoint(l.line, ST_StartPoint(m.geom)) END) > 1e-5"
}

# town: records and result side by side in one schema, since a result holds the records.
loopwalk check "$town" -o "$connection" --quiet; expect_status 0
measure town_checked
[ "$(query 'SELECT count(*) FROM town_checked.moves')" -ge 5 ] || fail "the town has no moves"

for round in 1 2; do
    mkdir -p map
    python3 "$formats/random_map.py" $((seed + round)) map
    printf '%s\n' '[data]' 'dataset = "map"' '[cables]' 'crs = "EPSG:27700"' '[columns]' \
        'crs = "EPSG:27700"' '[output]' "path = \"$connection\"" "schema = \"map_$round\"" >map.toml
    loopwalk check map.toml --quiet; expect_status 0
    measure "map_$round"
    # Every pair that PostGIS finds within the snapping distance, and no other, was moved.
    path="SET search_path = map_$round, public;"
    counted() { query "$path SELECT count(*) FROM moves WHERE kind = '$1'"; }
    expected=$(query "$path SELECT count(*) FROM ends e JOIN columns c ON ST_DWithin(e.place, c.geom, 0.5)")
    [ "$(counted 'end to asset')" = "$expected" ] && [ "$expected" -ge 30 ] ||
        fail "ends at columns: $(counted 'end to asset'), PostGIS finds $expected"
    expected=$(query "$path SELECT count(*) FROM lines l JOIN columns c ON ST_DWithin(l.line, c.geom, 0.5)
        WHERE NOT EXISTS (SELECT 1 FROM ends e WHERE ST_DWithin(e.place, c.geom, 0.5))")
    [ "$(counted 'cut at asset')" = "$expected" ] && [ "$expected" -ge 30 ] ||
        fail "cuts: $(counted 'cut at asset'), PostGIS finds $expected"
    expected=$(query "$path SELECT count(*) FROM ends e JOIN lines l ON l.cable_id <> e.cable_id
        AND ST_DWithin(l.line, e.place, 0.5)")
    [ "$(counted 'tee assumed')" = "$expected" ] && [ "$expected" -ge 30 ] ||
        fail "tees: $(counted 'tee assumed'), PostGIS finds $expected"
    expected=$(query "$path SELECT count(*) FROM ends e JOIN columns c ON
        ST_DWithin(e.place, c.geom, 5) AND NOT ST_DWithin(e.place, c.geom, 0.5)
        AND NOT EXISTS (SELECT 1 FROM lines l WHERE ST_DWithin(l.line, c.geom, 0.5))")
    found=$(query "$path SELECT count(*) FROM gaps g JOIN columns c
        ON c.column_id IN (g.from_id, g.to_id)")
    [ "$found" = "$expected" ] && [ "$expected" -ge 30 ] ||
        fail "gaps: $found, PostGIS finds $expected"
    rm -rf map
done
