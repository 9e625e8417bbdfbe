#include "loopwalk/base/text.hpp"

#include "read_tables.hpp"
#include "table.hpp"
#include <algorithm>

namespace loopwalk::catalogue {

namespace {

/// "MCB B" and its like, without case.
bool names_a_breaker(std::string_view type) {
    return base::folded(type).starts_with("mcb");
}

FuseType& type_named(std::vector<FuseType>& fuses, const std::string& name) {
    const auto known = std::find_if(fuses.begin(), fuses.end(), [&](const FuseType& fuse) {
        return base::same_word(fuse.name, name);
    });
    if (known != fuses.end())
        return *known;
    fuses.push_back({name, names_a_breaker(name), {}});
    return fuses.back();
}

FuseRating read_rating(const Row& row) {
    FuseRating rating;
    rating.rating = Ampere(row.needed_positive("rating_a"));
    rating.breaking_ka = row.quantity<Number>("breaking_ka");
    rating.voltage = row.quantity<base::Volt>("voltage_v");
    rating.prearcing_i2t = row.quantity<Number>("prearcing_i2t_a2s");
    rating.total_i2t = row.quantity<Number>("total_i2t_a2s");
    if (rating.prearcing_i2t && rating.total_i2t && *rating.total_i2t < *rating.prearcing_i2t)
        row.fail("total_i2t_a2s", "is below prearcing_i2t_a2s; the total includes the arc");
    return rating;
}

} // namespace

std::vector<FuseType> read_devices(std::string_view text, const std::string& file) {
    const Table table(text, file,
                      {"fuse_type", "rating_a", "breaking_ka", "voltage_v", "prearcing_i2t_a2s",
                       "total_i2t_a2s", "source"});
    std::vector<FuseType> fuses;
    for (std::size_t i = 0; i < table.row_count(); ++i) {
        const Row row(table, i);
        FuseType& type = type_named(fuses, row.needed_text("fuse_type"));
        FuseRating rating = read_rating(row);
        if (type.rating(rating.rating))
            row.fail("rating_a", type.name + " of " + base::number_text(rating.rating.value()) +
                                     " A stands in the file twice");
        type.ratings.push_back(std::move(rating));
    }
    for (FuseType& type : fuses)
        std::sort(type.ratings.begin(), type.ratings.end(),
                  [](const FuseRating& a, const FuseRating& b) { return a.rating < b.rating; });
    return fuses;
}

} // namespace loopwalk::catalogue
