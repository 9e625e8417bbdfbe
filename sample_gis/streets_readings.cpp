// Test readings that disagree with the records, one on each circuit.

#include "street.hpp"
#include "streets.hpp"

namespace town {

void build_reading_faults(Town& town) {
    Street street(town, {"GU", "Gull Street", "Hill", 2, 5, 0.0});
    street.add_pillar();
    street.add_arm({.way = 1});
    street.add_arm({.way = 2, .footway = Footway::south});
    street.add_arm({.way = 3, .heading = Heading::west});

    town.readings.push_back({.asset_id = "GU1-04", .zs_ohm = 4.60});
    town.expect("reading-over-limit", "danger", "columns", "GU1-04",
                "way 1: 4.60 ohm read at the cut-out, 16 A needs 3.97 ohm (218.5 V / 55 A)");
    town.expect("reading-high", "warning", "columns", "GU1-04",
                "way 1: the same reading, over the band of 0.81 to 0.97 ohm");

    town.readings.push_back({.asset_id = "GU2-04", .zs_ohm = 2.40});
    town.expect("reading-high", "warning", "columns", "GU2-04",
                "way 2: 2.40 ohm read, within the limit but over the band of 0.81 to 0.97 ohm");

    town.readings.push_back({.asset_id = "GU3-04", .zs_ohm = 0.35});
    town.expect("reading-low", "warning", "columns", "GU3-04",
                "way 3: 0.35 ohm read, under the band of 0.81 to 0.97 ohm");
}

} // namespace town
