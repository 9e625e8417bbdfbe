// One value of the job file into the Job, by the slot of its key.
#pragma once

#include "loopwalk/base/error.hpp"

#include <toml++/toml.h>

#include "key_table.hpp"
#include <string>

namespace loopwalk::config {

/// Where we are in the job file: for messages and relative paths.
struct Place {
    std::string file;                 ///< as the user named it
    std::string folder;               ///< of the file; empty: the current one
    std::string table;                ///< "rules"
    std::string key;                  ///< "cmin"; empty: the table itself
    const base::Unit* unit = nullptr; ///< of the number that is read; null: a plain number

    [[noreturn]] void fail(const toml::source_region& where, const std::string& message) const;
    [[noreturn]] void fail(const toml::node& node, const std::string& message) const {
        fail(node.source(), message);
    }
};

/// Throws ConfigError for a value of the wrong type or outside the limits of the key.
[[nodiscard]] std::vector<double> read_box(const toml::node& node, const Place& place);
void read_value(const toml::node& node, const Key& key, const Place& place, Job& job);

/// The table of the layer in place.table, or several ([[cables]]): all its sources.
void read_layer(const toml::node& node, const Place& place, Job& job);
/// One key of the table in place.table. Throws ConfigError that names the nearest right key.
void read_key(const toml::key& name, const toml::node& node, Place place, Job& job);

/// A finite number; with place.unit also a text with a unit of its kind ("6 ft"), converted.
[[nodiscard]] double read_number(const toml::node& node, const Place& place);
[[nodiscard]] std::string read_text(const toml::node& node, const Place& place); ///< not blank
/// One number, a list of numbers (its smallest and largest) or { low, high }.
[[nodiscard]] base::Bounds<base::Number> read_range(const toml::node& node, const Place& place);

/// " Did you mean 'x'?" or the list of what there is.
[[nodiscard]] std::string suggestion(std::string_view word,
                                     const std::vector<std::string>& candidates);

/// A path of the job file, seen from the current folder. Connection strings, absolute paths and
/// inline data stay as they are.
[[nodiscard]] std::string resolved_path(const std::string& text, const std::string& folder,
                                        TextKind kind);

} // namespace loopwalk::config
