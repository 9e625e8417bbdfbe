// Rows of the catalogue against what a text says. The rows are read by the same words: their names
// and descriptions tell what they are, so this works for a council's own catalogue too.
#include "loopwalk/base/text.hpp"
#include "loopwalk/catalogue/type_words.hpp"

#include <algorithm>
#include <cmath>

namespace loopwalk::catalogue {

namespace {

constexpr double kSameSize = 1e-6; // mm2

/// What a row is: its name's words, its figures, and its description where the name says nothing.
CableWords words_of(const CableType& row) {
    CableWords words = read_cable_words(row.name);
    const CableWords more = read_cable_words(row.description);
    if (row.line.csa) {
        words.csa_mm2 = (*row.line.csa).value();
    }
    if (row.cores > 0) {
        words.cores = row.cores;
    }
    const std::string name = base::folded(row.name);
    if (name.starts_with("concentric split")) {
        words.construction = Construction::split_concentric;
    }
    if (name.starts_with("flat twin and earth")) {
        words.construction = Construction::twin_and_earth;
    }
    if (words.insulation == Insulation::unstated) {
        words.insulation = more.insulation;
    }
    if (words.metal == Metal::unstated) {
        words.metal = more.metal;
    }
    if (words.construction == Construction::unstated) {
        words.construction = more.construction;
    }
    return words;
}

template <class T>
bool agrees(T stated, T row) {
    return stated == T{} || row == T{} || stated == row;
}

/// An imperial size is written by its nominal area or by its strands, which have up to 7 % more
/// (7/.044 for .01 sq in); the next size has 40 % more at least.
bool has_size(const CableWords& row, const CableWords& text) {
    constexpr double kStrands = 0.08;
    if (!row.csa_mm2 || !text.csa_mm2) {
        return false;
    }
    const bool both_imperial = row.size_as == SizeAs::imperial && text.size_as == SizeAs::imperial;
    return std::abs(*row.csa_mm2 - *text.csa_mm2) <
           (both_imperial ? *row.csa_mm2 * kStrands : kSameSize);
}

bool fits(const CableWords& text, const CableWords& row) {
    return has_size(row, text) && agrees(text.cores, row.cores) &&
           agrees(text.insulation, row.insulation) && agrees(text.metal, row.metal) &&
           agrees(text.construction, row.construction);
}

bool is_made(double csa) {
    const auto& sizes = made_sizes_mm2();
    return std::any_of(sizes.begin(), sizes.end(),
                       [csa](double s) { return std::abs(s - csa) < kSameSize; });
}

/// A size that is made, where ten times or a tenth of what is written; 0 if neither.
double ten_times_off(double csa) {
    constexpr double kTen = 10.0;
    if (is_made(csa)) {
        return 0.0;
    }
    if (is_made(csa * kTen)) {
        return csa * kTen;
    }
    return is_made(csa / kTen) ? csa / kTen : 0.0;
}

/// Sizes on either side, for a size that is not made.
std::string neighbours(double csa) {
    const auto& sizes = made_sizes_mm2();
    const auto above = std::upper_bound(sizes.begin(), sizes.end(), csa);
    if (above == sizes.begin() || above == sizes.end()) {
        return {};
    }
    return " between " + base::number_text(*(above - 1)) + " and " + base::number_text(*above) +
           " mm2";
}

/// Below this size no cable has aluminium cores (IEC 60228 table 2 begins at 10 mm2, armoured
/// cables to BS 5467 at 16 mm2; imperial ones began at .04 sq in, from memory).
double smallest_aluminium(SizeAs size) {
    constexpr double kMetric = 10.0;
    constexpr double kImperial = 25.0;
    return size == SizeAs::imperial ? kImperial : kMetric;
}

std::vector<std::string> open_questions(const CableWords& text) {
    std::vector<std::string> open;
    if (text.size_as == SizeAs::number) {
        open.emplace_back("the unit of the size");
    }
    if (text.cores == 0) {
        open.emplace_back("the number of cores");
    }
    // Rows of lead-covered cables hold with and without armour.
    if (text.construction == Construction::unstated && text.insulation != Insulation::paper) {
        open.emplace_back("the armour");
    }
    if (text.insulation == Insulation::unstated && text.construction != Construction::flex &&
        text.construction != Construction::combined_concentric &&
        text.construction != Construction::split_concentric) {
        open.emplace_back("the insulation");
    }
    if (text.metal == Metal::unstated &&
        text.csa_mm2.value_or(0.0) >= smallest_aluminium(text.size_as)) {
        open.emplace_back("copper or aluminium");
    }
    return open;
}

/// Rows that fit, and whether they differ in their earth path alone.
void collect(const CableWords& words, const Catalogue& catalogue, TypeGuess& guess) {
    for (const CableType& row : catalogue.cables()) {
        if (fits(words, words_of(row))) {
            guess.names.push_back(row.name);
        }
    }
}

void explain_size(const CableWords& words, TypeGuess& guess) {
    guess.reason = base::short_text(*words.csa_mm2) + " mm2";
    if (words.size_as == SizeAs::imperial) {
        guess.reason += " (converted)";
    }
}

void explain_open(const CableWords& words, TypeGuess& guess) {
    std::vector<std::string> open = open_questions(words);
    constexpr std::size_t kAll = 8;
    if (!words.left_over.empty()) {
        open.push_back("what '" + base::listed(words.left_over, kAll) + "' means");
    }
    if (guess.names.size() > 1 && open.empty()) {
        open.emplace_back("which conductor is the earth path");
    }
    guess.is_sure = guess.names.size() == 1 && open.empty() && !words.contradicts;
    if (words.contradicts) {
        guess.reason += "; it contradicts itself";
    }
    if (guess.names.empty()) {
        guess.reason += "; no row of the catalogue fits";
    } else if (!open.empty()) {
        guess.reason += "; not said: " + base::listed(open, kAll);
    }
}

} // namespace

TypeGuess guess_cable(std::string_view text, const Catalogue& catalogue) {
    TypeGuess guess;
    if (const auto exact = catalogue.find_cable(text)) {
        guess.names = {catalogue.cable(*exact).name};
        guess.is_sure = true;
        guess.reason = "a name of the catalogue";
        return guess;
    }
    CableWords words = read_cable_words(text);
    if (!words.csa_mm2) {
        guess.reason = "no size is said";
        return guess;
    }
    explain_size(words, guess);
    collect(words, catalogue, guess);
    const double other = ten_times_off(*words.csa_mm2);
    if (guess.names.empty() && words.size_as != SizeAs::imperial && other > 0.0) {
        words.csa_mm2 = other;
        collect(words, catalogue, guess);
        guess.reason +=
            " is no size that is made, " + base::number_text(other) + " mm2 is: ten times off?";
        return guess;
    }
    if (guess.names.empty()) {
        guess.reason += is_made(*words.csa_mm2) ? "" : neighbours(*words.csa_mm2);
    }
    explain_open(words, guess);
    return guess;
}

} // namespace loopwalk::catalogue
