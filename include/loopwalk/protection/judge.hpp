// Judgement: figures against devices and limits. Each verdict holds at the unfavourable bound or
// breaks at the favourable one; between them it is undecided (method.md sections 2, 6 and 7).
#pragma once

#include "loopwalk/figures/figures.hpp"
#include "loopwalk/figures/loads.hpp"
#include "loopwalk/protection/device.hpp"
#include "loopwalk/protection/device_places.hpp"

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace loopwalk::protection {

using base::CableId;
using base::ColumnId;
using base::DeviceId;
using base::InfeedId;
using base::NodeId;
using base::VertexId;
using base::WayId;
using figures::ColumnFigures;
using figures::FedPoint;
using figures::Figures;
using figures::Inputs;
using figures::LargestCurrents;
using figures::LoadBook;
using figures::SectionFigures;
using impedance::CablePerKm;
using impedance::Complex;
using impedance::Source;
using impedance::Withstand;
using solution::MultiFeed;

/// Worst first among those that count; `none` where there is nothing to judge.
enum class Verdict : std::uint8_t { fails, undecided, meets, not_traced, not_ours, none };
[[nodiscard]] std::string_view verdict_name(Verdict v) noexcept; // "" for none

enum class ClearState : std::uint8_t { clears, not_within_table, not_computed };
[[nodiscard]] std::string_view clear_state_name(ClearState s) noexcept;

/// Why a side is not simply met: for lw_why and the findings.
enum class Reason : std::uint8_t {
    none,
    bounds_straddle, ///< meets at one bound and not at the other
    rating_missing,
    type_missing,
    curve_missing,      ///< no curve for the rating; its neighbours leave it open
    limit_not_in_table, ///< the table has no current for the limit time
    ze_missing,
    assumed_source, ///< would meet, but on an assumed source
    earth_broken,   ///< no earth path in the records
    earth_unknown,
    too_slow,     ///< the loop is too high for the device
    reading_over, ///< a test reading breaks the limit
    no_device,    ///< nothing recorded upstream that could protect
    tt_without_rcd,
    tt_rcd_missing,
    tt_electrode_missing,
    side_missing,
    partly_distributors, ///< one of its feeds has nothing but the distributor's main fuse
    breaking_too_low,
    breaking_missing,
    too_long_for_adiabatic, ///< longer than 5 s or not in the table: heat cannot be judged
    i2t_missing,            ///< current above the device's table, its total I2t not known
    withstand_missing,      ///< k or area of the conductor is not in the catalogue
    armour_share,           ///< holds only if the armour carries its share
    divided_current,        ///< of several devices: with all their heat it does not hold
    too_hot,                ///< more heat than the conductor survives
};

/// TT without a residual current device, or none on record: `no-rcd` tells it.
[[nodiscard]] constexpr bool is_about_rcd(Reason reason) noexcept {
    return reason == Reason::tt_without_rcd || reason == Reason::tt_rcd_missing;
}

/// Conductor of a cable by what it is for.
enum class Core : std::uint8_t { line, neutral, earth_path };

/// One conductor of one section against the heat of a fault that it carries.
struct HeatCheck {
    Verdict verdict = Verdict::none;
    Reason reason = Reason::none;
    Core core{};
    base::SectionId section;            ///< the heated one
    bool is_largest = false;            ///< at the largest current; else at the smallest
    base::AmpereSquaredSecond passed;   ///< I2t let through, high bound (low bound where it fails)
    base::AmpereSquaredSecond survived; ///< k^2 S^2, low bound (high bound where it fails)
    /// I2t over k^2 S^2: above 1 where it fails; infinite where nothing bounds it.
    [[nodiscard]] double ratio() const noexcept { return passed / survived; }
};

/// A fault on one side of a cut-out, judged.
struct Side {
    base::DeviceId device;     ///< of the network; invalid with own_fuse set or nothing
    bool own_fuse = false;     ///< the column's own cut-out fuse
    bool is_multi_fed = false; ///< several devices open one after the other
    bool is_rcd = false;
    std::uint32_t load_row = 0xffffffffU; ///< row of `loads` whose fuse decides; else the column's
    ClearState state = ClearState::not_computed;
    base::Maybe<base::Second> clear, limit;
    base::Maybe<base::Ohm> zs_low, zs_high;
    base::Maybe<base::Ohm> zs_limit; ///< Cmin*U0/Ia
    base::Maybe<base::Number> margin;
    Verdict verdict = Verdict::none;
    Reason reason = Reason::none;
    Verdict predicted = Verdict::none; ///< verdict and reason before readings were looked at
    Reason predicted_reason = Reason::none;
    bool is_reading_over = false; ///< a reading breaks the limit of this side
};

struct Judgement {
    base::Maybe<base::Ohm> zs_low, zs_high; ///< at the column, without its tail
    base::Maybe<base::Ampere> ief_min;      ///< smallest earth-fault current there
    Side in, out;
    Verdict breaking = Verdict::none;
    Reason breaking_reason = Reason::none;
    base::Maybe<base::Number> breaking_ka; ///< of the weakest possible cut-out fuse
    Verdict heat = Verdict::none;          ///< of the earth path, for a fault at the column
    HeatCheck heat_check;                  ///< the worst behind it
    Verdict vdrop = Verdict::none;
    Verdict overall = Verdict::none;
    base::Maybe<base::Ampere> fuse_max, fuse_min;
    std::optional<model::Basis> basis; ///< weakest source value behind the verdict
};

enum class FeedKind : std::uint8_t { not_traced, pillar, main, column, several };
enum class FeedBasis : std::uint8_t { none, traced, stated, nearest_main };
struct Feed {
    FeedKind kind = FeedKind::not_traced;
    FeedBasis basis = FeedBasis::none;
};

/// The worse of two verdicts; `none`, `not_ours` and `not_traced` give way to one that counts.
[[nodiscard]] Verdict worse(Verdict a, Verdict b) noexcept;

/// Something that the records do not tell, taken to be known. Null: as recorded.
struct Suppose {
    Complex low, high;           ///< added to the hot loop up to the column, at each bound
    Complex tail_low, tail_high; ///< added beyond the cut-out
    const Source* source = nullptr;
    const DeviceChoices* device = nullptr; ///< that protects the incoming side
    const DeviceChoices* own = nullptr;    ///< the column's own fuse
};

/// The two disconnection verdicts of a column.
struct SideVerdicts {
    Verdict in = Verdict::none;
    Verdict out = Verdict::none;
};

class Judge {
  public:
    Judge(const Inputs& inputs, const Figures& figures);

    [[nodiscard]] Judgement column(ColumnId id);
    /// What the disconnection verdicts would be. Readings are left out: they stand whatever is
    /// supposed. Precondition: can_suppose().
    [[nodiscard]] SideVerdicts sides_if(ColumnId id, const Suppose& what);
    /// Fed by one device, with an earth path that is sure and no electrode of its own: its
    /// verdicts follow from the sums along its path.
    [[nodiscard]] bool can_suppose(ColumnId id) const;
    /// Hot line and protective conductor of the tail as recorded, ohm.
    struct TailLoop {
        Complex low, high;
    };
    [[nodiscard]] TailLoop tail_loop(ColumnId id) const;
    /// The same with a length, a type, or both taken to be known.
    [[nodiscard]] Complex tail_loop_if(ColumnId id, std::optional<base::CableTypeId> type,
                                       base::Metre length) const;
    [[nodiscard]] Feed feed(ColumnId id) const;

    /// How far the device that protects a section clears a fault at its far end.
    enum class Cover : std::uint8_t { clears, does_not_clear, undecided, no_device };
    struct SectionCover {
        Cover cover = Cover::no_device;
        base::Maybe<base::Second> clear;
    };
    [[nodiscard]] SectionCover section(base::SectionId id);

    /// Worst verdicts on the conductors that carry a fault in a section: its own, and the weakest
    /// before it. `problems` is cleared and filled with what fails or is undecided.
    struct SectionHeat {
        Verdict cores = Verdict::none; ///< line and neutral
        Verdict earth_path = Verdict::none;
    };
    [[nodiscard]] SectionHeat section_heat(base::SectionId id, std::vector<HeatCheck>& problems);

    /// Current-carrying capacity of a section's cable over the types it may have; absent if one of
    /// them has none in the catalogue.
    struct Ampacity {
        base::Maybe<base::Ampere> low, high;
    };
    [[nodiscard]] Ampacity ampacity(base::SectionId id) const;

    /// Breaking capacity of a device against the largest current at its place; none for a column's
    /// own fuse, which is judged with its column, and where no current is computed.
    struct Breaking {
        Verdict verdict = Verdict::none;
        base::Maybe<base::Number> device_ka, current_ka;
        std::optional<base::SupplyId> supply; ///< whose source it is; none: a main's
    };
    [[nodiscard]] Breaking device_breaking(DeviceId id);

    [[nodiscard]] const DeviceChoices& choices(DeviceId id);
    /// `layer`: whose record it is.
    [[nodiscard]] const DeviceChoices& choices(const model::FuseRecord& fuse,
                                               base::AssetLayer layer) {
        return m_book.of(fuse, layer);
    }
    /// Where a device stands in the network.
    [[nodiscard]] const DevicePlace& place(DeviceId id) const { return m_places[id.index()]; }
    /// Largest currents at a vertex on a path from a source.
    [[nodiscard]] LargestCurrents largest_at_terminals(const Source& source) const;
    [[nodiscard]] LargestCurrents largest_at(VertexId v, const Source& source) const;
    [[nodiscard]] const LoadBook& loads() const noexcept { return m_loads; }
    [[nodiscard]] std::span<const std::uint32_t> readings(ColumnId id) const;
    /// Limit of the incoming side of a column, and of what a device protects.
    [[nodiscard]] base::Second in_limit(ColumnId id) const;
    [[nodiscard]] bool is_distributors(DeviceId id) const;
    /// Straight off a distributor's main, with no device on record.
    [[nodiscard]] bool is_on_main(const ColumnFigures& figures) const;
    /// On an electrode of its own: a TT supply, or a column so recorded on another.
    [[nodiscard]] bool is_tt(ColumnId id) const;
    /// Source of a column fed by one way; null otherwise.
    [[nodiscard]] const Source* source(const ColumnFigures& column) const;
    /// Source of a section fed by one way; null otherwise.
    [[nodiscard]] const Source* source(const SectionFigures& section) const;
    /// The section that leads to a vertex, links inside assets passed over; invalid at a source.
    [[nodiscard]] base::SectionId section_to(VertexId v) const;

  private:
    struct SideInput;
    [[nodiscard]] Side measure_side(const SideInput& input, const LimitCurrents& currents) const;
    [[nodiscard]] Side judge_side(const SideInput& input) const;
    void fill_loop(ColumnId id, Judgement& judgement) const;
    void fill_tt_loop(ColumnId id, Judgement& judgement) const;
    [[nodiscard]] Side judge_in(ColumnId id, const Suppose& what = {});
    [[nodiscard]] Side judge_out(ColumnId id, const Side& in, const Suppose& what = {});
    [[nodiscard]] Side judge_load(ColumnId id, const Side& in, std::uint32_t row,
                                  const Suppose& what);
    [[nodiscard]] SideInput lantern_input(ColumnId id, const model::FuseRecord& fuse,
                                          base::AssetLayer layer, base::Second limit,
                                          const Suppose& what);
    [[nodiscard]] Side judge_tt(ColumnId id, base::Maybe<base::Number> rcd_ma,
                                base::Second limit) const;
    [[nodiscard]] base::Maybe<base::Number> way_rcd(ColumnId id) const;
    [[nodiscard]] TailLoop with_tail(ColumnId id) const;
    struct Fault; ///< judge_heat.cpp
    // judge_feeds.cpp: places that several devices feed
    enum class Margin : bool { no, yes };
    [[nodiscard]] Side judge_fed(const FedPoint& place, base::Second limit,
                                 Margin margin = Margin::yes);
    /// Smallest current of each device over all orders of opening; none: nothing bounds it.
    [[nodiscard]] std::vector<base::Maybe<base::Ampere>> least_currents(const FedPoint& place);
    [[nodiscard]] SectionHeat fed_section_heat(base::SectionId id,
                                               std::vector<HeatCheck>& problems);
    [[nodiscard]] Fault fault_from_feeds(const FedPoint& place, base::Maybe<base::Ampere> largest);
    void judge_fed_heat(ColumnId id, Judgement& judgement);
    [[nodiscard]] Reason why_unjudged(const MultiFeed& feed);
    [[nodiscard]] Reason why_straddling(const MultiFeed& feed);
    [[nodiscard]] bool is_assumed(const MultiFeed& feed) const;
    [[nodiscard]] const Source* source_of_infeed(base::InfeedId infeed) const;
    [[nodiscard]] MultiFeed::Loop fed_loop(const FedPoint& place) const;
    [[nodiscard]] SectionCover fed_section(base::SectionId id);
    void apply_readings(ColumnId id, Side& in, Side& out) const;
    void judge_breaking(ColumnId id, Judgement& judgement);
    void judge_volt_drop(const ColumnFigures& figures, Judgement& judgement) const;
    void find_fuse_sizes(ColumnId id, Judgement& judgement);
    [[nodiscard]] base::Second out_limit(ColumnId id, const model::Load* load) const;
    [[nodiscard]] HeatCheck check_heat(const Fault& fault, Core core, base::SectionId heated) const;
    [[nodiscard]] Reason why_heat_open(const Fault& fault, base::SectionId heated,
                                       const base::Bounds<base::AmpereSquaredSecond>& ks) const;
    [[nodiscard]] const Withstand& withstand(base::SectionId id) const;
    [[nodiscard]] Fault smallest_fault(const SectionFigures& at, const DeviceChoices& device,
                                       const Source& source, base::Maybe<base::Ohm> z_low,
                                       base::Maybe<base::Ohm> z_high) const;
    [[nodiscard]] LargestCurrents largest_before(base::SectionId id, const Source& source) const;
    [[nodiscard]] bool path_survives(ColumnId id, const DeviceChoices& device) const;
    void judge_heat(ColumnId id, Judgement& judgement);
    void mark_near_mains(base::Metre reach);

    const model::Layers& m_layers;
    const config::Rules& m_rules;
    const Assumptions& m_assumptions;
    const network::Network& m_net;
    const trace::Trace& m_trace;
    const Figures& m_figures;
    DeviceBook m_book;
    LoadBook m_loads;
    std::vector<DevicePlace> m_places; ///< by device
    std::vector<CablePerKm> m_tails;   ///< by cable type
    std::vector<Withstand> m_unbonded; ///< by cable type, with armour that is not bonded
    base::Grouped<ColumnId> m_readings;
    std::unordered_map<base::SectionId, SectionCover> m_fed_covers; ///< of those judged so far
    std::vector<std::uint8_t> m_near_main; ///< by column: a main lies within reach
};

} // namespace loopwalk::protection
