#!/usr/bin/env bash
# Degrees, feet, axes the other way round and a different coordinate system for each layer give the
# figures of the town in metres. Lengths are taken on the ellipsoid, so only the rounding of
# coordinates (1e-9 degree is 0.1 mm) and PROJ's way between systems show.
. "$(dirname "$0")/common.sh"
tolerance=1e-5
# The national grid in feet, by its own definition.
feet="+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +ellps=airy +towgs84=446.448,-125.157,542.06,0.15,0.247,0.842,-20.489 +units=ft +no_defs"
metres=${feet/units=ft/units=m}

convert -f GPKG -t_srs EPSG:4326 degrees.gpkg "$town"
same_town degrees.gpkg --tolerance $tolerance

convert -f GPKG -s_srs "$metres" -t_srs "$feet" feet.gpkg "$town"
same_town feet.gpkg --tolerance $tolerance

# A system whose axes are north, east: GeoPackage stores x first all the same. Its plane is not
# conformal, so the nearest point of a line is another one by millimetres where a cable is cut.
convert -f GPKG -t_srs EPSG:3035 laea.gpkg "$town"
same_town laea.gpkg --tolerance 2e-4

# Each layer in a system of its own. Going from one datum to another and back is true to some
# millimetres only, which show where a tee is assumed at the nearest point of a line.
cp "$town" mixed.gpkg
in_system() { convert -f GPKG -update -overwrite -t_srs "$2" mixed.gpkg "$town" "$1"; }
in_system columns EPSG:4326
in_system supplies EPSG:32629
in_system joints EPSG:3857
in_system mains EPSG:3035
same_town mixed.gpkg --tolerance 2e-4
