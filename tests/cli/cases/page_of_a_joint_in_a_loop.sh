# A joint on a closed loop has a page: what its sections have lies inside them, not at the joint.
. "$(dirname "$0")/../common.sh"
mkdir records
feature() { # LAYER PROPERTIES TYPE COORDINATES
    printf '{"type": "Feature", "properties": {%s}, "geometry": {"type": "%s", "coordinates": %s}}\n' \
        "$2" "$3" "$4" >>"records/$1.features"
}
cable() { feature cables "\"cable_id\": \"$1\", \"cable_type\": \"SWA XLPE Cu 3x6\", \"length_m\": $2" LineString "$3"; }
feature supplies '"supply_id": "P", "kind": "pillar", "earthing": "TN-C-S", "ze_ohm": 0.35, "pscc_ka": 1' \
    Point '[400000, 300000]'
feature columns '"column_id": "A"' Point '[400040, 300000]'
feature joints '"joint_id": "J", "kind": "straight"' Point '[400020, 300000]'
feature joints '"joint_id": "K", "kind": "straight"' Point '[400020, 300020]'
cable C1 20 '[[400000, 300000], [400020, 300000]]'
cable C2 0.001 '[[400020, 300000], [400020, 300020]]'
cable C3 25 '[[400020, 300020], [400040, 300000]]'
cable C4 25 '[[400040, 300000], [400020, 300000]]'
for layer in supplies columns joints cables; do
    printf '{"type": "FeatureCollection", "name": "%s", "crs": {"type": "name", "properties":
        {"name": "urn:ogc:def:crs:EPSG::27700"}}, "features": [%s]}' "$layer" \
        "$(paste -sd, "records/$layer.features")" >"records/$layer.geojson"
    rm "records/$layer.features"
done
for asset in joints:J joints:K cables:C2 columns:A; do
    loopwalk explain records "$asset"; expect_status 0
done
loopwalk explain records joints:K; prints 'on a closed'
