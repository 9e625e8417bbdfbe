#include "loopwalk/base/text.hpp"

#include "key_depth.hpp"
#include "read_value.hpp"
#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace loopwalk::config {

namespace {

constexpr std::size_t kMostKeyParts = 32; ///< a job file needs two

std::string read_file(const std::string& path) {
    std::error_code error;
    if (std::filesystem::is_directory(path, error)) {
        throw base::ConfigError(path + ": is a folder; name the job file (.toml) itself");
    }
    if (std::filesystem::exists(path, error) && !std::filesystem::is_regular_file(path, error)) {
        throw base::ConfigError(path + ": is a device or a pipe, which may never end; name a file");
    }
    errno = 0;
    std::ifstream file(path, std::ios::binary);
    if (!file) {
        throw base::ConfigError(
            path + ": cannot be opened: " +
            (errno != 0 ? std::generic_category().message(errno) : "unknown reason") +
            "; check the path of the job file");
    }
    std::string text{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
    if (file.bad()) {
        throw base::ConfigError(path + ": cannot be read to its end");
    }
    return text;
}

toml::table parse(const std::string& text, const std::string& path) {
    const DeepestKey deepest = deepest_key(text);
    if (deepest.parts > kMostKeyParts) {
        throw base::ConfigError(path + ":" + std::to_string(deepest.line) + ": a name of " +
                                std::to_string(deepest.parts) +
                                " parts with dots between; a job file has [table] and key");
    }
    try {
        return toml::parse(text, path);
    } catch (const toml::parse_error& error) {
        throw base::ConfigError(path + ":" + std::to_string(error.source().begin.line) + ": " +
                                std::string(error.description()));
    }
}

/// The name under which a table of the job file stands in the key table.
std::string_view generic_table(std::string_view table) {
    return base::layer_of(table) ? kAnyLayer : table;
}

std::vector<std::string> table_names() {
    std::vector<std::string> names;
    for (const Key& key : keys()) {
        if (key.table == kAnyLayer ||
            std::find(names.begin(), names.end(), key.table) != names.end()) {
            continue;
        }
        names.emplace_back(key.table);
    }
    for (std::size_t i = 0; i < base::kAssetLayerCount; ++i) {
        names.emplace_back(base::layer_name(static_cast<base::AssetLayer>(i)));
    }
    return names;
}

[[noreturn]] void fail_unknown_key(const toml::key& name, const Place& place) {
    std::vector<std::string> names;
    std::string elsewhere;
    for (const Key& key : keys()) {
        if (key.table == generic_table(place.table)) {
            names.emplace_back(key.name);
        } else if (key.name == name.str()) {
            elsewhere = " A key of that name belongs in [" + std::string(key.table) + "].";
        }
    }
    place.fail(name.source(), "there is no key '" + std::string(name.str()) + "' here." +
                                  (elsewhere.empty() ? suggestion(name.str(), names) : elsewhere));
}

void read_table(const toml::key& name, const toml::node& node, Place place, Job& job) {
    const auto names = table_names();
    if (std::find(names.begin(), names.end(), name.str()) == names.end()) {
        place.fail(name.source(), "there is no table or key '" + std::string(name.str()) +
                                      "' at the top level." + suggestion(name.str(), names));
    }
    place.table = name.str();
    if (base::layer_of(place.table)) {
        return read_layer(node, place, job);
    }
    const auto* table = node.as_table();
    if (table == nullptr) {
        place.fail(node, "is a table: write [" + place.table + "] and its keys below it");
    }
    for (const auto& [key, value] : *table) {
        read_key(key, value, place, job);
    }
}

} // namespace

void read_key(const toml::key& name, const toml::node& node, Place place, Job& job) {
    const auto found = std::find_if(keys().begin(), keys().end(), [&](const Key& key) {
        return key.table == generic_table(place.table) && key.name == name.str();
    });
    if (found == keys().end()) {
        fail_unknown_key(name, place);
    }
    place.key = name.str();
    read_value(node, *found, place, job);
}

Job read_job_file(const std::string& path) {
    const toml::table root = parse(read_file(path), path);
    const Place place{path, std::filesystem::path(path).parent_path().string(), {}, {}, nullptr};
    Job job;
    for (const auto& [name, node] : root) {
        read_table(name, node, place, job);
    }
    return job;
}

Job job_for_dataset(const std::string& dataset) {
    Job job;
    job.data.dataset = dataset;
    return job;
}

} // namespace loopwalk::config
