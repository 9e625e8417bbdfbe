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
    if (found == items.end())
        return std::nullopt;
    return static_cast<std::size_t>(found - items.begin());
}

} // namespace

const FuseRating* FuseType::rating(Ampere rated) const noexcept {
    const auto found = std::find_if(ratings.begin(), ratings.end(),
                                    [rated](const FuseRating& r) { return r.rating == rated; });
    return found == ratings.end() ? nullptr : &*found;
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

Catalogue parse_catalogue(const CatalogueText& text) {
    std::vector<FuseType> fuses = read_devices(text.devices, text.devices_name);
    // Whoever replaces the devices need not repeat the curves: built-in curves of devices that
    // the replacement leaves out are no slip.
    const bool own_curves = text.curves != built_in_text().curves;
    read_curves(text.curves, text.curves_name,
                own_curves ? StrayCurve::is_error : StrayCurve::is_unused, fuses);
    return {read_cables(text.cables, text.cables_name), std::move(fuses)};
}

std::string read_catalogue_file(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    if (!file || std::filesystem::is_directory(path))
        throw base::ConfigError("the catalogue file " + path +
                                " cannot be opened; check its path in [catalogue]");
    std::ostringstream content;
    content << file.rdbuf();
    if (file.bad() || content.bad())
        throw base::ConfigError("reading the catalogue file " + path +
                                " failed part of the way; copy it to a sound disk");
    return content.str();
}

} // namespace loopwalk::catalogue
