#include "read_value.hpp"
#include <algorithm>
#include <cctype>
#include <filesystem>

namespace loopwalk::config {

namespace {

/// "PG:dbname=x", "MSSQL:...", "GPKG:a.gpkg:t": a driver's prefix of two or more characters, so
/// that a drive letter is none; or a document handed over as text ("{...}", "<...>").
bool is_connection_string(const std::string& text) {
    if (text.starts_with('{') || text.starts_with('<')) {
        return true;
    }
    const std::size_t colon = text.find(':');
    if (colon == std::string::npos || colon < 2) {
        return false;
    }
    return std::all_of(
        text.begin(), text.begin() + static_cast<std::ptrdiff_t>(colon),
        [](unsigned char c) { return std::isalnum(c) != 0 || c == '_' || c == '+'; });
}

} // namespace

std::string resolved_path(const std::string& text, const std::string& folder, TextKind kind) {
    namespace fs = std::filesystem;
    if (kind == TextKind::plain) {
        return text;
    }
    const fs::path path(text);
    if (path.is_absolute()) {
        return text;
    }
    const fs::path below = (fs::path(folder) / path).lexically_normal();
    std::error_code error;
    if (kind == TextKind::dataset && is_connection_string(text) && !fs::exists(below, error)) {
        return text;
    }
    return below.string();
}

} // namespace loopwalk::config
