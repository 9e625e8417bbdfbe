// Tables of cables, protective devices and time-current points. Built into the program from
// src/catalogue/data/*.csv; a job may replace any of the three files. Every row names its source.
//
// Rows keep the order of the file; names are compared without case and outer blanks.
// Docs: docs/catalogue.md.
#pragma once

#include "loopwalk/base/id.hpp"
#include "loopwalk/base/quantity.hpp"

#include <array>
#include <complex>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::catalogue {

using base::Ampere;
using base::CableTypeId;
using base::FuseTypeId;
using base::Maybe;
using base::Number;
using base::OhmPerKm;
using base::Second;

/// One conductor of a cable: line, neutral, armour or protective core.
struct Conductor {
    OhmPerKm r20;                      ///< at 20 C, > 0; the most where it is a range
    OhmPerKm x;                        ///< >= 0
    double alpha_per_k = 0.0;          ///< temperature coefficient at 20 C
    base::Celsius hot;                 ///< temperature for the smallest fault current
    Maybe<base::SquareMillimetre> csa; ///< may be unknown
    Maybe<Number> k;                   ///< adiabatic factor, A s^0.5 / mm2
    Maybe<OhmPerKm> r20_low;           ///< the least it may be; absent: exactly r20
    /// r(T) = r20 * (1 + alpha*(T - 20)), method.md section 3 (IEC 60287-1-1).
    [[nodiscard]] OhmPerKm r_at(base::Celsius t) const noexcept {
        return r20 * (1.0 + alpha_per_k * (t.value() - 20.0));
    }
    /// The least that it may be at that temperature.
    [[nodiscard]] OhmPerKm r_low_at(base::Celsius t) const noexcept {
        return r20_low.value_or(r20) * (1.0 + alpha_per_k * (t.value() - 20.0));
    }
    /// Known as a range only, as lead sheaths are.
    [[nodiscard]] bool is_range() const noexcept { return r20_low.has_value(); }
};

/// Which conductor carries the earth-fault current back.
enum class EarthPath : std::uint8_t { armour, cpc, armour_and_cpc, neutral, none };

/// What a row is for: only circuit cables stand in for a missing cable type.
enum class CableUse : std::uint8_t { circuit, service, main, tail };

/// A row of cables.csv, for one kilometre of cable.
struct CableType {
    std::string name;                 ///< as cables name it; compared without case and outer blanks
    std::string description;          ///< for people
    CableUse use = CableUse::circuit; ///< which records it may stand in for
    int cores = 0;                    ///< 0 if the file does not say
    Conductor line;                   ///< the conductor of one phase
    std::optional<Conductor> neutral, armour, cpc; ///< absent: the cable has none
    /// through which of them an earth-fault current returns
    EarthPath earth_path = EarthPath::none;
    Maybe<Ampere> ampacity; ///< buried (reference method D) unless the source says otherwise
    std::string source; ///< document that the figures come from; its confidence stands in the file
};

/// A tabulated point of a time-current curve.
struct CurvePoint {
    Ampere current; ///< prospective, > 0
    Second time;    ///< until the circuit is cleared (slow edge) or begins to open (fast edge), > 0
};

/// Largest rating of a fuse over the current-carrying capacity of the cable that it protects
/// against overload, where nothing is said of it: from the largest conventional fusing current of
/// the standards in the table (2.1 times the rating; 1.45 / 2.1) up to none needed.
inline constexpr base::Bounds<Number> kUnknownOverloadFactor{Number(0.69), Number(1.0)};

/// One rating of a device type. Curves are sorted by current, then by falling time: equal currents
/// make a vertical step, of which the shorter time holds at that current.
struct FuseRating {
    Ampere rating;                          ///< as printed on it, > 0
    Maybe<Number> breaking_ka;              ///< largest current it can break, kA; absent: not known
    Maybe<base::Volt> voltage;              ///< the largest it may be used at; absent: not known
    Maybe<Number> prearcing_i2t, total_i2t; ///< A2s
    std::string holder; ///< size of the cartridge or carrier: "26x10"; empty: not known
    /// least and most where it is not known
    base::Bounds<Number> overload_factor = kUnknownOverloadFactor;
    std::vector<CurvePoint> slow, fast; ///< the longest and the shortest times; may be empty
};

/// What a device is. A link protects nothing: records of it read as the word `none`.
enum class FuseKind : std::uint8_t { fuse, breaker, link };

/// A device type and its ratings: rows of devices.csv and curves.csv with one name.
struct FuseType {
    std::string name;                 ///< by its standard: "BS 88-2", "gG", "MCB B"
    FuseKind kind = FuseKind::fuse;   ///< what it is
    bool is_gg = false;               ///< general purpose, full range, of IEC 60269
    bool is_current_limiting = false; ///< lets no more heat through at a larger current
    std::vector<FuseRating> ratings;  ///< ascending; a link may have none
    /// The row of that rating; null if the catalogue has none.
    [[nodiscard]] const FuseRating* rating(Ampere rated) const noexcept;
};

/// In <= Iz and I2 <= 1.45 Iz (BS 7671 reg 433.1.1): the largest rating over the capacity of the
/// cable. Of a rating that is not in the table what its two neighbours have.
[[nodiscard]] base::Bounds<Number> overload_factor(const FuseType& type, Ampere rated);

/// The tables of one run. Never changes once made; ids are positions and stay valid with it.
class Catalogue {
  public:
    /// Takes rows that are checked already: parse_catalogue() does.
    Catalogue(std::vector<CableType> cables, std::vector<FuseType> fuses);

    /// Without case and outer blanks; none if there is no such type.
    [[nodiscard]] std::optional<CableTypeId> find_cable(std::string_view name) const;
    /// Without case and outer blanks; none if there is no such type.
    [[nodiscard]] std::optional<FuseTypeId> find_fuse(std::string_view name) const;
    /// Of a valid id of this catalogue.
    [[nodiscard]] const CableType& cable(CableTypeId id) const { return m_cables[id.index()]; }
    /// Of a valid id of this catalogue.
    [[nodiscard]] const FuseType& fuse(FuseTypeId id) const { return m_fuses[id.index()]; }
    /// In the order of the file, added rows behind.
    [[nodiscard]] const std::vector<CableType>& cables() const noexcept { return m_cables; }
    /// In the order of the file, added rows behind.
    [[nodiscard]] const std::vector<FuseType>& fuses() const noexcept { return m_fuses; }

  private:
    std::vector<CableType> m_cables;
    std::vector<FuseType> m_fuses;
};

/// Texts of the three files and the names to use for them in errors.
struct CatalogueText {
    std::string cables, devices, curves; ///< contents of the files
    /// What to call the files in errors.
    std::string cables_name = "cables.csv", devices_name = "devices.csv",
                curves_name = "curves.csv";
};

/// The tables built into the program.
[[nodiscard]] const CatalogueText& built_in_text();

/// Throws ConfigError with file and line for a missing heading, a value that is not a number,
/// r <= 0, x < 0, an earth path without its conductor, a curve that does not fall, a repeated row.
[[nodiscard]] Catalogue parse_catalogue(const CatalogueText& text);

/// A table that is added to those of a catalogue.
struct AddedTable {
    std::string text; ///< empty: none
    std::string name; ///< of the file, for errors
};

/// Tables whose rows are added to a catalogue or override rows of it: cables by name, devices by
/// type and rating, curves by type, rating and edge.
struct AddedTables {
    AddedTable cables, devices, curves; ///< beside the tables of the same name
};

/// The same with rows added. Points of an edge override all points of that edge; the points of a
/// device that is overridden without new ones stay. Throws ConfigError as above, also for a curve
/// of a device that neither has.
[[nodiscard]] Catalogue parse_catalogue(const CatalogueText& text, const AddedTables& added);

/// Contents of a file of the job. Throws ConfigError if it cannot be read.
[[nodiscard]] std::string read_catalogue_file(const std::string& path);

} // namespace loopwalk::catalogue
