# A folder that cannot be written: status 4, and the records can still be read from there.
. "$(dirname "$0")/../common.sh"
mkdir shelf
make_town town.gpkg
make_read_only() {
    if [ "$(id -u)" -eq 0 ]; then # root writes where it likes, so the folder must be another mount
        mount -t tmpfs -o size=4m tmpfs shelf 2>/dev/null || skip "root, and no mount allowed"
        trap 'cd /; umount "$work/shelf"; cleanup' EXIT
        cp town.gpkg shelf/
        mount -o remount,ro shelf 2>/dev/null || skip "cannot remount read-only"
    else
        cp town.gpkg shelf/
        chmod 555 shelf
        trap 'chmod 755 "$work/shelf"; cleanup' EXIT
    fi
}
make_read_only

loopwalk check town.gpkg -o shelf/out.gpkg; expect_status 4; is_plain_error; says 'shelf'
absent shelf/out.gpkg
loopwalk check shelf/town.gpkg -o out.gpkg; expect_status 0; exists out.gpkg
