// What people write about cables and fuses ("6mm 2c SWA", ".0225 3C", "HRC 10A"), and which rows of
// the catalogue that may mean. It never decides: it says what the words leave open.
#pragma once

#include "loopwalk/catalogue/catalogue.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::catalogue {

/// Of the conductors; `unstated` fits every row.
enum class Insulation : std::uint8_t { unstated, xlpe, pvc, paper };
/// Of the line conductor; `unstated` fits every row.
enum class Metal : std::uint8_t { unstated, copper, aluminium };
/// What is round the cores; `unstated` fits every row.
enum class Construction : std::uint8_t {
    unstated,
    steel_wire_armour,
    combined_concentric, ///< neutral-earth wires round the core
    split_concentric,    ///< neutral and earth wires round the core
    twin_and_earth,
    flex,
    unarmoured,
};

/// How a size was written.
enum class SizeAs : std::uint8_t {
    mm2,      ///< "6mm", "3x2.5"
    number,   ///< "6": taken as mm2
    imperial, ///< ".0225", "7/.036": converted
};

/// What the words of a cable's type say, in whatever order they stand.
struct CableWords {
    std::optional<double> csa_mm2;      ///< of a line conductor
    SizeAs size_as = SizeAs::mm2;       ///< how that size stood in the text
    int cores = 0;                      ///< 0: unstated
    Insulation insulation{};            ///< of the conductors
    Metal metal{};                      ///< of the line conductor
    Construction construction{};        ///< what is round the cores
    std::vector<std::string> left_over; ///< words that mean nothing here
    bool contradicts = false;           ///< two sizes, two numbers of cores ...
};
/// Never throws; a text that says nothing leaves all unstated.
[[nodiscard]] CableWords read_cable_words(std::string_view text);

/// Which rows a text may mean.
struct TypeGuess {
    std::vector<std::string> names; ///< of the catalogue, in its order; empty: none fits
    bool is_sure = false;           ///< the text says all that tells the one row from others
    std::string reason;             ///< what was understood, and what is left open
};
/// Cost: one pass over the catalogue.
[[nodiscard]] TypeGuess guess_cable(std::string_view text, const Catalogue& catalogue);

/// What the words of a fuse's type say.
struct FuseGuess {
    TypeGuess type;                 ///< names of fuse types, or "none" for a link
    std::optional<double> rating_a; ///< as written; sure if there
};
/// Cost: one pass over the catalogue. Sure only if a single type fits.
[[nodiscard]] FuseGuess guess_fuse(std::string_view text, const Catalogue& catalogue);

/// Cross-sections that cables are made in, mm2 (IEC 60228 table 1), ascending.
[[nodiscard]] const std::vector<double>& made_sizes_mm2();

} // namespace loopwalk::catalogue
