// A drawn case: a small network as characters, tables of what is recorded, tables of what the
// result must hold. The format is described in README.md beside this file.
#pragma once

#include "loopwalk/base/point.hpp"

#include <map>
#include <string>
#include <vector>

namespace loopwalk::maps {

/// A cell of a table: what stands in it, and whether it was `-`, no value.
struct Cell {
    std::string text;
    bool is_null = false;
};

struct Table {
    std::vector<std::string> fields;
    std::vector<std::vector<Cell>> rows;
};

/// Rows of one layer of the result, found by their key fields.
struct Expectation {
    std::string layer;
    std::vector<std::string> keys;
    bool is_whole = false; ///< the layer has no further rows
    Table table;
    int line = 0; ///< in the case file
};

struct MapCase {
    std::string title;
    std::map<char, base::Point2> points;      ///< metres
    std::map<std::string, Table> layers;      ///< by native name
    std::map<std::string, std::string> files; ///< further files beside the job, by name
    std::string job;                          ///< lines of TOML
    std::vector<Expectation> expectations;
};

/// Throws std::runtime_error that names file and line.
[[nodiscard]] MapCase read_case(const std::string& path);

} // namespace loopwalk::maps
