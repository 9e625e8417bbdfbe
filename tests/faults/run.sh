#!/usr/bin/env bash
# Calls of the system fail one by one: the records stay as they were, a result is whole or not there,
# and a run that says it is done has written what a run without faults writes.
#   run.sh [SAMPLE]: how many of the calls of each kind fail (default 12; "all" for every one, of malloc
#   a thousand)
# Prints a table: run, call, calls counted, runs, what became of them. FAULT_RUNS names some of the runs.
here=$(cd "$(dirname "$0")" && pwd)
. "$here/../cli/common.sh"
. "$here/common.sh"
files="open write fsync rename renameat2 mkdir unlink ftruncate"
wanted() { case " ${FAULT_RUNS:-gpkg geojson shp csv fgb explain draft} " in *" $1 "*) ;; *) return 1 ;; esac; }

begin_table
! wanted gpkg || scenario "check, GeoPackage" out.gpkg "$files read malloc" check town.gpkg -o out.gpkg --quiet
for format in geojson shp csv fgb; do
    ! wanted $format || scenario "check, .$format" "out.$format" "open write fwrite fsync rename mkdir malloc" \
        check town.gpkg -o "out.$format" --quiet
done
! wanted explain || scenario "explain" none "open read fread malloc" explain town.gpkg C1
! wanted draft || scenario "draft" none "open read malloc" draft town.gpkg
end_table
