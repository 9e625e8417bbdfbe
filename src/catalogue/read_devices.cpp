#include "loopwalk/base/text.hpp"

#include "read_tables.hpp"
#include "table.hpp"
#include <algorithm>
#include <map>

namespace loopwalk::catalogue {

namespace {

/// What the rows of a type say of it as a whole; they must agree.
struct Stated {
    std::optional<FuseKind> kind;
    std::optional<bool> is_gg, is_current_limiting;
};

std::optional<FuseKind> read_kind(const Row& row) {
    const auto word = row.word("kind", {"fuse", "breaker", "link"});
    static_assert(static_cast<int>(FuseKind::link) == 2);
    return word ? std::optional(static_cast<FuseKind>(*word)) : std::nullopt;
}

std::optional<bool> read_yes(const Row& row, std::string_view heading) {
    const auto word = row.word(heading, {"no", "yes"});
    return word ? std::optional(*word == 1) : std::nullopt;
}

const FuseType* find_type(const std::vector<FuseType>& fuses, std::string_view name) {
    const auto found = std::find_if(fuses.begin(), fuses.end(), [&](const FuseType& fuse) {
        return base::same_word(fuse.name, name);
    });
    return found == fuses.end() ? nullptr : &*found;
}

class DeviceReader {
  public:
    explicit DeviceReader(const std::vector<FuseType>& known) : m_known(known) {}

    void read(const Row& row) {
        FuseType& type = type_named(row.needed_text("fuse_type"));
        read_type(row, type);
        if (type.kind == FuseKind::link && row.text("rating_a").empty()) {
            return;
        }
        FuseRating rating = read_rating(row, type);
        if (type.rating(rating.rating) != nullptr) {
            row.fail("rating_a", type.name + " of " + base::number_text(rating.rating.value()) +
                                     " A stands in the file twice");
        }
        type.ratings.push_back(std::move(rating));
    }

    std::vector<FuseType> finished() {
        for (FuseType& type : m_fuses) {
            std::sort(type.ratings.begin(), type.ratings.end(),
                      [](const FuseRating& a, const FuseRating& b) { return a.rating < b.rating; });
        }
        return std::move(m_fuses);
    }

  private:
    const std::vector<FuseType>& m_known;
    std::vector<FuseType> m_fuses;
    std::map<std::string, Stated> m_stated; ///< by folded name

    FuseType& type_named(const std::string& name) {
        for (FuseType& fuse : m_fuses) {
            if (base::same_word(fuse.name, name)) {
                return fuse;
            }
        }
        FuseType type;
        if (const FuseType* known = find_type(m_known, name)) {
            type = *known;
            type.ratings.clear();
        } else if (base::folded(name).starts_with("mcb")) {
            type.kind = FuseKind::breaker;
        }
        type.name = name;
        m_fuses.push_back(std::move(type));
        return m_fuses.back();
    }

    template <class T>
    static void settle(const Row& row, std::string_view heading, std::optional<T> said,
                       std::optional<T>& stated, T& member) {
        if (!said) {
            return;
        }
        if (stated && *stated != *said) {
            row.fail(heading, "another row of this type says otherwise");
        }
        stated = said;
        member = *said;
    }

    void read_type(const Row& row, FuseType& type) {
        Stated& stated = m_stated[base::folded(type.name)];
        settle(row, "kind", read_kind(row), stated.kind, type.kind);
        settle(row, "gg", read_yes(row, "gg"), stated.is_gg, type.is_gg);
        settle(row, "current_limiting", read_yes(row, "current_limiting"),
               stated.is_current_limiting, type.is_current_limiting);
        if (type.is_gg && type.kind != FuseKind::fuse) {
            row.fail("gg", "only a fuse can be of utilization category gG");
        }
    }

    FuseRating read_rating(const Row& row, const FuseType& type) const {
        FuseRating rating;
        rating.rating = Ampere(row.needed_positive("rating_a"));
        rating.breaking_ka = row.quantity<Number>("breaking_ka");
        rating.voltage = row.quantity<base::Volt>("voltage_v");
        rating.prearcing_i2t = row.quantity<Number>("prearcing_i2t_a2s");
        rating.total_i2t = row.quantity<Number>("total_i2t_a2s");
        if (rating.prearcing_i2t && rating.total_i2t && *rating.total_i2t < *rating.prearcing_i2t) {
            row.fail("total_i2t_a2s", "is below prearcing_i2t_a2s; the total includes the arc");
        }
        const FuseType* known = find_type(m_known, type.name);
        read_fitting(row, type, known, rating);
        return rating;
    }

    /// Holder and overload factor: of the row, else of the known type, else by the kind.
    static void read_fitting(const Row& row, const FuseType& type, const FuseType* known,
                             FuseRating& rating) {
        rating.holder = row.text("holder");
        const FuseRating* same = known != nullptr ? known->rating(rating.rating) : nullptr;
        if (rating.holder.empty() && same != nullptr) {
            rating.holder = same->holder;
        }
        const std::optional<double> factor = row.positive("overload_factor");
        if (factor && *factor > 1.0) {
            row.fail("overload_factor", "must be at most 1");
        }
        if (factor) {
            rating.overload_factor = base::Bounds<Number>::exactly(Number(*factor));
        } else if (known != nullptr) {
            rating.overload_factor = overload_factor(*known, rating.rating);
        } else if (type.kind == FuseKind::breaker) { // BS 7671 reg 433.1.202
            rating.overload_factor = base::Bounds<Number>::exactly(Number(1.0));
        }
    }
};

} // namespace

std::vector<FuseType> read_devices(std::string_view text, const std::string& file,
                                   const std::vector<FuseType>& known) {
    const Table table(text, file,
                      {"fuse_type", "rating_a", "breaking_ka", "voltage_v", "prearcing_i2t_a2s",
                       "total_i2t_a2s", "source"});
    DeviceReader reader(known);
    for (std::size_t i = 0; i < table.row_count(); ++i) {
        reader.read(Row(table, i));
    }
    return reader.finished();
}

} // namespace loopwalk::catalogue
