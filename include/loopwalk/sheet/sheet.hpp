// A page for the person at the door: what feeds an asset, what stays live in it, what to expect.
// It stands alone on paper. First a page without a form, then what paints it. Docs: docs/sheet.md.
#pragma once

#include "loopwalk/output/results.hpp"
#include "loopwalk/report/explain.hpp"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::sheet {

/// Some lines under one heading. A page that is too long gives up items from the end, down to
/// `keep`, and says how many.
struct Part {
    std::string key;                ///< of the JSON: "cable_ends"
    std::string heading;            ///< as printed
    std::vector<std::string> items; ///< each one line, however long
    std::size_t keep = 0;           ///< items that are never given up
};

/// One page, before it is painted.
struct Sheet {
    base::AssetLayer layer{};        ///< of the asset
    std::string id;                  ///< of the asset; of a way "supply/way"
    std::string large;               ///< whose equipment, the largest type of the page
    std::string title;               ///< what and where
    std::vector<Part> parts;         ///< in the order of the page
    std::vector<std::string> blanks; ///< to be filled in by hand
};

/// What a sheet is: not a permit.
[[nodiscard]] std::string_view purpose();

/// The page of a column, supply, joint or way. Throws ConfigError for a cable, which has no door.
[[nodiscard]] Sheet make_sheet(const output::Results& results, protection::Judge& judge,
                               report::Asset asset);

/// Columns in service that hang on a way, also beyond section pillars, along the cable.
[[nodiscard]] std::vector<report::Asset> columns_of_way(const output::Results& results,
                                                        base::WayId way);

/// All columns whose area is `area`: by supply and way, along the cable; those without a source
/// last, by id. Throws ConfigError if there are none.
[[nodiscard]] std::vector<report::Asset> round_of(const output::Results& results,
                                                  std::string_view area);

constexpr std::size_t kLines = 60; ///< of a page
constexpr std::size_t kWidth = 80; ///< characters of a line

/// One page: at most kLines lines of kWidth characters, as far as ids allow.
[[nodiscard]] std::string as_text(const Sheet& sheet);
/// All pages, whole: nothing is given up.
[[nodiscard]] std::string as_json(const std::vector<Sheet>& sheets);

} // namespace loopwalk::sheet
