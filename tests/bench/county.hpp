// An invented county of any size: pillars on a grid, each with ways of 12 to 25 columns looped in
// and out, a tee on every way, and a few columns on services of their own. The same number gives
// the same county, and its records are complete and without faults.
#pragma once

#include "loopwalk/base/point.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace loopwalk::bench {

struct Column {
    base::Point2 place;
    std::string circuit;
    std::uint32_t cell = 0;
    bool on_service = false;
};

struct Cable {
    base::Polyline line;
    std::string circuit;
    std::uint32_t cell = 0;
    bool is_service = false;
};

struct Supply {
    std::string id;
    base::Point2 place;
    std::uint32_t cell = 0;
    bool is_service = false;
};

struct Way {
    std::string supply_id;
    std::string way;
    std::string circuit;
};

struct County {
    std::vector<Column> columns;
    std::vector<Cable> cables;
    std::vector<Supply> supplies;
    std::vector<Way> ways;
    std::vector<base::Point2> joints;
};

/// A county of exactly `column_count` columns; about 50 for each pillar. Of its ways
/// `ringed_percent` have a further cable from their last column back to the pillar.
[[nodiscard]] County make_county(std::size_t column_count, std::uint64_t ringed_percent = 0);

/// The same number for the same key, evenly spread over 0 ... `below` - 1 (splitmix64,
/// Steele, Lea and Flood 2014).
[[nodiscard]] std::uint64_t pick(std::uint64_t key, std::uint64_t below);

/// Writes the county as a GeoPackage with the native layer and field names, EPSG:27700.
void write_county(const County& county, const std::string& path);

} // namespace loopwalk::bench
