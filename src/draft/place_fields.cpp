// Coordinates that stand in the fields of a table.
#include "loopwalk/base/written_number.hpp"
#include "loopwalk/draft/profile.hpp"

#include "data_lines.hpp"
#include "vocabulary.hpp"
#include <cctype>
#include <cmath>

namespace loopwalk::draft {

namespace {

using base::DecimalMark;

constexpr double kMostNumbers = 0.8; ///< of what a field of coordinates holds
constexpr double kLeastPlane = 1000; ///< m; what is called "x" alone may be anything

/// "GpsLon_2" is "gps lon 2".
std::vector<std::string> words_of(std::string_view name) {
    std::string spaced;
    for (const char c : name) {
        const bool is_upper = std::isupper(static_cast<unsigned char>(c)) != 0;
        if (is_upper && !spaced.empty() &&
            std::islower(static_cast<unsigned char>(spaced.back())) != 0) {
            spaced += ' ';
        }
        spaced += c;
    }
    std::vector<std::string> words;
    const std::string plain = plain_letters(spaced); // the pieces are views of it
    for (const std::string_view word : pieces(plain, ' ')) {
        if (!word.empty()) {
            words.emplace_back(word);
        }
    }
    return words;
}

/// The words of a name but for those of a coordinate; none if it is not called so.
std::optional<std::vector<std::string>> rest_of(const std::vector<std::string>& name,
                                                const std::vector<std::string>& wanted) {
    const auto at = std::search(name.begin(), name.end(), wanted.begin(), wanted.end());
    if (wanted.empty() || at == name.end()) {
        return std::nullopt;
    }
    std::vector<std::string> rest(name.begin(), at);
    rest.insert(rest.end(), at + static_cast<std::ptrdiff_t>(wanted.size()), name.end());
    return rest;
}

/// A field that may hold a coordinate, by its name.
struct Named {
    std::size_t field = 0;
    bool is_degrees = false;
    bool is_x = false;
    bool is_letter = false; ///< "x" and nothing else
    std::vector<std::string> rest;
};

std::vector<Named> named_fields(const gis::Layer& layer) {
    std::vector<Named> all;
    for (std::size_t i = 0; i < layer.fields().size(); ++i) {
        const std::vector<std::string> words = words_of(layer.fields()[i].name);
        for (const CoordinateNames& list : Vocabulary::built_in().coordinates()) {
            std::optional<std::vector<std::string>> shortest;
            for (const std::string& name : list.names) {
                auto rest = rest_of(words, words_of(name));
                if (rest && (!shortest || rest->size() < shortest->size())) {
                    shortest = std::move(rest);
                }
            }
            if (shortest) {
                const bool is_letter = words.size() == 1 && words.front().size() == 1;
                all.push_back({i, list.is_degrees, list.is_x, is_letter, std::move(*shortest)});
            }
        }
    }
    return all;
}

struct Pair {
    const Named* x = nullptr;
    const Named* y = nullptr;
};

/// Fields that are called alike but for the coordinate; degrees first, then the shortest names.
std::vector<Pair> pairs_of(const std::vector<Named>& named) {
    std::vector<Pair> pairs;
    for (const Named& x : named) {
        for (const Named& y : named) {
            if (x.is_x && !y.is_x && x.field != y.field && x.is_degrees == y.is_degrees &&
                x.rest == y.rest) {
                pairs.push_back({&x, &y});
            }
        }
    }
    std::stable_sort(pairs.begin(), pairs.end(), [](const Pair& a, const Pair& b) {
        return std::pair(!a.x->is_degrees, a.x->rest.size()) <
               std::pair(!b.x->is_degrees, b.x->rest.size());
    });
    return pairs;
}

/// How the texts of two fields read, as coordinates with one decimal mark.
struct Count {
    std::uint64_t filled = 0;
    std::uint64_t good = 0;  ///< both are numbers that may be a place
    std::uint64_t large = 0; ///< of those, beyond what counts or years are
    [[nodiscard]] double share(std::uint64_t part) const {
        return filled == 0 ? 0.0 : static_cast<double>(part) / static_cast<double>(filled);
    }
};

std::optional<double> number_in(std::string_view text, DecimalMark mark) {
    const base::WrittenNumber number = base::read_written_number(text, mark);
    const bool is_plain =
        number.state == base::WrittenNumber::State::number && number.unit == nullptr;
    return is_plain ? std::optional(number.value) : std::nullopt;
}

void add(Count& count, std::string_view x_text, std::string_view y_text, bool is_degrees,
         DecimalMark mark) {
    constexpr double kMostX = 180.0;
    constexpr double kMostY = 90.0;
    ++count.filled;
    const auto x = number_in(x_text, mark);
    const auto y = number_in(y_text, mark);
    if (!x || !y || (is_degrees && (std::abs(*x) > kMostX || std::abs(*y) > kMostY))) {
        return;
    }
    ++count.good;
    const bool is_large = std::abs(*x) >= kLeastPlane || std::abs(*y) >= kLeastPlane;
    count.large += is_large ? 1U : 0U;
}

/// The pair as the fields of places, if its numbers are such.
std::optional<PlaceFields> judged(gis::Layer& layer, const Pair& pair) {
    constexpr std::array kMarks{DecimalMark::unstated, DecimalMark::comma};
    std::array<Count, kMarks.size()> counts;
    auto cursor = layer.read({pair.x->field, pair.y->field}, gis::Layer::WithGeometry::no);
    while (cursor.next()) {
        const std::string x(cursor.text(pair.x->field).value_or(std::string_view()));
        const std::string y(cursor.text(pair.y->field).value_or(std::string_view()));
        if (base::trimmed(x).empty() && base::trimmed(y).empty()) {
            continue;
        }
        for (std::size_t i = 0; i < kMarks.size(); ++i) {
            add(counts[i], x, y, pair.x->is_degrees, kMarks[i]);
        }
    }
    const std::size_t best = counts[1].good > counts[0].good ? 1 : 0;
    const Count& count = counts[best];
    const bool needs_size = pair.x->is_letter && pair.y->is_letter;
    if (count.share(count.good) < kMostNumbers ||
        (needs_size && count.share(count.large) < kMostNumbers)) {
        return std::nullopt;
    }
    return PlaceFields{pair.x->field, pair.y->field, pair.x->is_degrees, kMarks[best]};
}

} // namespace

std::optional<PlaceFields> find_place_fields(gis::Layer& layer) {
    const std::vector<Named> named = named_fields(layer);
    for (const Pair& pair : pairs_of(named)) {
        if (const auto fields = judged(layer, pair)) {
            return fields;
        }
    }
    return std::nullopt;
}

} // namespace loopwalk::draft
