// The parts that pages are put together from. Each writes its own heading, sentences, tables and
// lines of working, and compares what it works out with the computed figure.
#pragma once

#include "loopwalk/report/term.hpp"

#include "loop_network.hpp"
#include <optional>

namespace loopwalk::report {

/// Resistance and reactance, as they stand on the page.
struct Ohms {
    Term r = 0.0;
    Term x = 0.0;
};

/// Impedances along a trail from the supply's terminals, as far as there is a path.
struct TrailOhms {
    impedance::Impedances z;
    impedance::EarthPathState earth = impedance::EarthPathState::intact;
    impedance::Presence neutral = impedance::Presence::yes;
    [[nodiscard]] bool is_hot_exact() const;
    [[nodiscard]] bool is_cold_exact() const;
};

/// Hot line + earth at the two bounds, and the loop with the source.
struct Loop {
    Ohms low, high;
    std::optional<Term> zs_low, zs_high; ///< absent if the source or the earth path is not known
    bool is_exact = false;               ///< low and high are the same
};

/// A cable type on a trail, or what may stand for a missing one.
struct TypeUse {
    base::CableTypeId type; ///< invalid: missing
    bool armour_bonded = true;
    bool is_tail = false; ///< a missing tail, not a missing cable
    friend auto operator<=>(const TypeUse&, const TypeUse&) = default;
};

/// Where a trail runs and what protects each section; `at_end`: what protects its end.
void write_route(Context& c, const Trail& trail, const std::string& at_end);
[[nodiscard]] std::string protection_text(const Context& c,
                                          const std::vector<base::DeviceId>& devices);
/// The source as seen from the network: a supply, or an end on a main.
void write_source(Context& c, base::InfeedId infeed);
void write_supply_source(Context& c, base::SupplyId id);
/// The rule of lengths, once a page; and the lengths of sections numbered from `first`.
void write_length_rule(Context& c);
void write_lengths(Context& c, const std::vector<base::SectionId>& sections, std::size_t first = 1);
/// Ohms per km of cable types, with temperatures and factors; no heading of its own.
void write_types(Context& c, const std::vector<TypeUse>& types);
[[nodiscard]] std::string type_name(const Context& c, const TypeUse& use);
[[nodiscard]] TypeUse type_of(const Context& c, base::SectionId section);
/// A closed loop from its gate or terminals to where the way leaves it.
struct LoopOhms {
    impedance::Impedances z;
    impedance::EarthPathState earth = impedance::EarthPathState::intact;
    impedance::Presence neutral = impedance::Presence::yes;
};
/// Sections of every loop on the trail with their ohms, and the impedance over all branches at
/// once. Precondition: can_work_loops().
[[nodiscard]] std::vector<LoopOhms> write_loops(Context& c, const Trail& trail);
/// False where a loop's records leave a range, or several supplies feed it: then its bounds are
/// not worked on a page.
[[nodiscard]] bool can_work_loops(const Context& c, const Trail& trail);
/// Sections of all loops, numbered on behind those of the path.
[[nodiscard]] std::vector<base::SectionId> loop_sections(const Trail& trail);
/// Ohms of sections by themselves, numbered from `first`.
void write_section_ohms(Context& c, const std::vector<base::SectionId>& sections,
                        std::size_t first);
/// Ohms of each section in series, of the loops and the mains, and their sums, hot and at 20 C.
[[nodiscard]] TrailOhms write_trail_ohms(Context& c, const Trail& trail,
                                         const std::vector<LoopOhms>& loops);
/// Loop impedance and smallest earth-fault current at the end of the trail.
[[nodiscard]] Loop write_loop(Context& c, const impedance::Source& source, const TrailOhms& ohms);
/// The same of a column that returns through an electrode of its own.
[[nodiscard]] Loop write_tt_loop(Context& c, base::ColumnId id, const impedance::Source& source,
                                 const TrailOhms& ohms);

/// The same from the figures of a column on a loop that is not worked on a page.
[[nodiscard]] Loop write_given_loop(Context& c, const impedance::Source& source,
                                    const figures::ColumnFigures& figures);

/// The loop with the source, as the last of the lines: "Zs (bound)".
[[nodiscard]] Term write_zs(WorkingLines& lines, const impedance::Source& source, base::Ohm ze,
                            const Ohms& loop, const std::string& bound);

/// What a device must do within a limit, worked from its points.
struct Duty {
    const protection::DeviceChoices& device;
    std::string name; ///< "way P/1", "cut-out fuse of A"
    base::Second limit;
    std::string limit_text; ///< where the limit comes from, with its clause
    const impedance::Source& source;
    Loop loop;
};
struct DutyFigures {
    base::Maybe<base::Ohm> zs_limit;
    base::Maybe<base::Number> margin;
    base::Maybe<base::Second> clear;
};
[[nodiscard]] DutyFigures write_duty(Context& c, const Duty& duty);
/// A time read off the slow edges of what a device may be; none below their lowest points.
[[nodiscard]] std::optional<Term> write_device_time(WorkingLines& lines,
                                                    const protection::DeviceChoices& device,
                                                    const Term& current, const std::string& name);
void write_device_curves(Context& c, const std::vector<const protection::DeviceChoices*>& devices);

/// Several devices feed a place: they open one after the other until nothing feeds it.
void write_openings(Context& c, const figures::FedPoint& place, const protection::Side& side,
                    const std::string& limit_text);

/// Largest prospective current at the end of a trail, both bounds; kA.
struct Prospective {
    std::optional<Term> low, high;
};
[[nodiscard]] Prospective write_prospective(Context& c, const Trail& trail,
                                            const impedance::Source& source, const TrailOhms& ohms);

/// Loads of the way and volt drop along the trail.
void write_volt_drop(Context& c, base::ColumnId column, const Trail& trail);
/// The same on ways with closed loops or several phases.
void write_network_volt_drop(Context& c, base::ColumnId column, const Trail& trail);

/// Every cable end in an asset and what keeps it live. An invalid node: the asset has no place.
void write_ends(Context& c, base::NodeId asset);
/// Findings that concern an asset, also those that stand at another one; and, where `infeed` names
/// a way, the rest on it.
void write_findings(Context& c, base::Concern asset, base::InfeedId infeed = {});
/// The cautions that every page ends with.
void write_cautions(Context& c);

void write_column(Context& c, base::ColumnId id);
void write_cable(Context& c, base::CableId id);
void write_supply(Context& c, base::SupplyId id);
void write_joint(Context& c, base::JointId id);
void write_way(Context& c, base::WayId id);

} // namespace loopwalk::report
