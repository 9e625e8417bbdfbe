#include "loopwalk/catalogue/catalogue.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include "read_tables.hpp"
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <utility>

namespace loopwalk::catalogue {

namespace {

template <class Item>
std::optional<std::size_t> index_named(const std::vector<Item>& items, std::string_view name) {
    const auto found = std::find_if(items.begin(), items.end(), [name](const Item& item) {
        return base::same_word(item.name, name);
    });
    if (found == items.end()) {
        return std::nullopt;
    }
    return static_cast<std::size_t>(found - items.begin());
}

} // namespace

const FuseRating* FuseType::rating(Ampere rated) const noexcept {
    const auto found = std::find_if(ratings.begin(), ratings.end(),
                                    [rated](const FuseRating& r) { return r.rating == rated; });
    return found == ratings.end() ? nullptr : &*found;
}

base::Bounds<Number> overload_factor(const FuseType& type, Ampere rated) {
    std::optional<base::Bounds<Number>> found;
    const FuseRating* below = nullptr;
    for (const FuseRating& rating : type.ratings) {
        if (rating.rating == rated) {
            return rating.overload_factor;
        }
        if (rating.rating < rated) {
            below = &rating;
            continue;
        }
        found = rating.overload_factor;
        break;
    }
    if (below != nullptr && !found) {
        return below->overload_factor;
    }
    if (below != nullptr) {
        found->low = std::min(found->low, below->overload_factor.low);
        found->high = std::max(found->high, below->overload_factor.high);
    }
    return found.value_or(kUnknownOverloadFactor);
}

Catalogue::Catalogue(std::vector<CableType> cables, std::vector<FuseType> fuses)
    : m_cables(std::move(cables)), m_fuses(std::move(fuses)) {}

std::optional<CableTypeId> Catalogue::find_cable(std::string_view name) const {
    const std::optional<std::size_t> index = index_named(m_cables, name);
    return index ? std::optional(CableTypeId(*index)) : std::nullopt;
}

std::optional<FuseTypeId> Catalogue::find_fuse(std::string_view name) const {
    const std::optional<std::size_t> index = index_named(m_fuses, name);
    return index ? std::optional(FuseTypeId(*index)) : std::nullopt;
}

namespace {

/// Adds items to others, or puts them in the place of those of the same name.
template <class Item, class Combine>
void add_named(std::vector<Item>& items, std::vector<Item> added, Combine combine) {
    for (Item& item : added) {
        if (const auto index = index_named(items, item.name)) {
            combine(items[*index], item);
        } else {
            items.push_back(std::move(item));
        }
    }
}

/// Ratings of a type into a type that is there: a rating that it has keeps its curve. What the type
/// is was taken from it when the rows were read, but for what they say themselves.
void add_ratings(FuseType& type, FuseType& added) {
    type.kind = added.kind;
    type.is_gg = added.is_gg;
    type.is_current_limiting = added.is_current_limiting;
    for (FuseRating& rating : added.ratings) {
        const auto same =
            std::find_if(type.ratings.begin(), type.ratings.end(),
                         [&](const FuseRating& r) { return r.rating == rating.rating; });
        if (same == type.ratings.end()) {
            type.ratings.push_back(std::move(rating));
            continue;
        }
        rating.slow = std::move(same->slow);
        rating.fast = std::move(same->fast);
        *same = std::move(rating);
    }
    std::sort(type.ratings.begin(), type.ratings.end(),
              [](const FuseRating& a, const FuseRating& b) { return a.rating < b.rating; });
}

} // namespace

Catalogue parse_catalogue(const CatalogueText& text) {
    return parse_catalogue(text, {});
}

Catalogue parse_catalogue(const CatalogueText& text, const AddedTables& added) {
    const CatalogueText& built_in = built_in_text();
    std::vector<FuseType> fuses = read_devices(
        text.devices, text.devices_name,
        text.devices == built_in.devices ? std::vector<FuseType>()
                                         : read_devices(built_in.devices, built_in.devices_name));
    // Whoever replaces the devices need not repeat the curves: built-in curves of devices that
    // the replacement leaves out are no slip.
    const bool own_curves = text.curves != built_in.curves;
    read_curves(text.curves, text.curves_name,
                own_curves ? StrayCurve::is_error : StrayCurve::is_unused, fuses);
    if (!added.devices.text.empty()) {
        add_named(fuses, read_devices(added.devices.text, added.devices.name, fuses), add_ratings);
    }
    if (!added.curves.text.empty()) {
        read_curves(added.curves.text, added.curves.name, StrayCurve::is_error, fuses);
    }
    std::vector<CableType> cables = read_cables(text.cables, text.cables_name);
    if (!added.cables.text.empty()) {
        add_named(cables, read_cables(added.cables.text, added.cables.name),
                  [](CableType& old, CableType& row) { old = std::move(row); });
    }
    return {std::move(cables), std::move(fuses)};
}

std::string read_catalogue_file(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    if (!file || std::filesystem::is_directory(path)) {
        throw base::ConfigError("the catalogue file " + path +
                                " cannot be opened; check its path in [catalogue]");
    }
    std::ostringstream content;
    content << file.rdbuf();
    if (file.bad() || content.bad()) {
        throw base::ConfigError("reading the catalogue file " + path +
                                " failed part of the way; copy it to a sound disk");
    }
    return content.str();
}

} // namespace loopwalk::catalogue
