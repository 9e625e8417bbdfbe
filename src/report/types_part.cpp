// Ohms per kilometre of the cable types on a path, with temperatures and factors.
#include "parts.hpp"
#include <algorithm>

namespace loopwalk::report {
namespace {

using base::CableTypeId;
using catalogue::CableType;
using catalogue::Conductor;
using catalogue::EarthPath;
using impedance::Complex;
using impedance::Conductors;

constexpr double kCold = 20.0;

const std::vector<TableColumn>& columns() {
    static const std::vector<TableColumn> table_columns = {{"cable type"},
                                                           {"conductor"},
                                                           {"r20", Align::number},
                                                           {"alpha", Align::number},
                                                           {"hot C", Align::number},
                                                           {"factor", Align::number},
                                                           {"r hot", Align::number},
                                                           {"x hot", Align::number},
                                                           {"r 20 C", Align::number},
                                                           {"x 20 C", Align::number}};
    return table_columns;
}

struct HotCold {
    Complex hot, cold;
};

std::vector<std::string> row(const std::string& type, const std::string& conductor,
                             const HotCold& z) {
    return {type,
            conductor,
            "-",
            "-",
            "-",
            "-",
            written(z.hot.real()),
            written(z.hot.imag()),
            written(z.cold.real()),
            written(z.cold.imag())};
}

HotCold of_conductor(const Conductor& conductor, double factor) {
    return {{conductor.r_at(conductor.hot).value() * factor, conductor.x.value()},
            {conductor.r_at(base::Celsius(kCold)).value(), conductor.x.value()}};
}

void add_conductor(Table& table, const std::string& type, const std::string& name,
                   const Conductor& conductor, double factor) {
    auto cells = row(type, name, of_conductor(conductor, factor));
    cells[2] = written(conductor.r20.value());
    cells[3] = written(conductor.alpha_per_k);
    cells[4] = written(conductor.hot.value());
    cells[5] = written(factor);
    table.rows.push_back(std::move(cells));
    if (conductor.is_range()) {
        catalogue::Conductor least = conductor;
        least.r20 = *conductor.r20_low;
        least.r20_low = {};
        add_conductor(table, type, name + ", least", least, factor);
    }
}

bool has_armour_in_earth(const CableType& type, bool armour_bonded) {
    return type.earth_path == EarthPath::armour ||
           (type.earth_path == EarthPath::armour_and_cpc && armour_bonded);
}

bool has_core_in_earth(const CableType& type) {
    return type.earth_path == EarthPath::cpc || type.earth_path == EarthPath::armour_and_cpc;
}

void add_type(Table& table, const Context& c, const TypeUse& use) {
    const CableType& type = c.results.catalogue.cable(use.type);
    const double ac_factor = c.rules().armour_ac_factor;
    const std::string name = type_name(c, use);
    add_conductor(table, name, "line", type.line, 1.0);
    if (type.neutral.has_value()) {
        add_conductor(table, name, "neutral", *type.neutral, 1.0);
    }
    if (has_armour_in_earth(type, use.armour_bonded)) {
        add_conductor(table, name, "armour", *type.armour, ac_factor);
    }
    if (has_core_in_earth(type)) {
        add_conductor(table, name, "core", *type.cpc, 1.0);
    }
    if (type.earth_path == EarthPath::armour_and_cpc && use.armour_bonded) {
        const auto z = impedance::per_km(type, ac_factor).z;
        table.rows.push_back(
            row(name, "armour and core in parallel", {z.hot_low.earth, z.cold_low.earth}));
    }
}

std::string earth_text(const CableType& type, bool armour_bonded) {
    switch (type.earth_path) {
    case EarthPath::armour:
        return type.armour->is_range() ? "the armour or lead sheath, known as a range: the most "
                                         "for the high bound, the "
                                         "least for the low bound and the largest current"
                                       : "the armour";
    case EarthPath::cpc:
        return "the protective core";
    case EarthPath::armour_and_cpc:
        return armour_bonded ? "armour and protective core: the core alone for the high bound, "
                               "since terminations of armour corrode; both in parallel, "
                               "Za * Zb / (Za + Zb), for the low bound and the largest current"
                             : "the protective core alone: the armour is recorded as not bonded";
    case EarthPath::neutral:
        return "the combined neutral and earth";
    case EarthPath::none:
        return "none";
    }
    return "";
}

const std::vector<CableTypeId>& stand_ins(const Context& c, const TypeUse& use) {
    return use.is_tail ? c.results.assumptions.missing_tail_types
                       : c.results.assumptions.missing_cable_types;
}

const impedance::CablePerKm& envelope(const Context& c, const TypeUse& use) {
    if (use.is_tail) {
        return c.results.assumptions.missing_tail;
    }
    return use.armour_bonded ? c.results.assumptions.missing_cable
                             : c.results.assumptions.missing_cable_unbonded;
}

/// Types that have the smallest or largest ohms of a conductor among those that may be there.
std::vector<CableTypeId> extremes(const Context& c, const TypeUse& use) {
    const auto bond =
        use.armour_bonded ? impedance::ArmourBond::bonded : impedance::ArmourBond::not_bonded;
    std::vector<std::pair<impedance::Impedances, CableTypeId>> all;
    for (const CableTypeId id : stand_ins(c, use)) {
        const CableType& type = c.results.catalogue.cable(id);
        all.emplace_back(impedance::per_km(type, c.rules().armour_ac_factor, bond).z, id);
    }
    std::vector<std::pair<impedance::Impedances, CableTypeId>> found;
    const auto note = [&](auto figure) {
        const auto of = [&](const auto& entry) { return figure(entry.first); };
        for (const auto& entry : {std::ranges::min(all, {}, of), std::ranges::max(all, {}, of)}) {
            const auto same = [&](const auto& known) { return of(known) == of(entry); };
            if (std::ranges::none_of(found, same)) { // one that is listed already will do
                found.push_back(entry);
            }
        }
    };
    using impedance::Impedances;
    for (const auto when : {&Impedances::hot_low, &Impedances::hot_high, &Impedances::cold_low,
                            &Impedances::cold_high}) {
        for (const auto part : {&Conductors::line, &Conductors::neutral, &Conductors::earth}) {
            note([when, part](const Impedances& z) { return (z.*when.*part).real(); });
            note([when, part](const Impedances& z) { return (z.*when.*part).imag(); });
        }
    }
    std::vector<CableTypeId> types;
    types.reserve(found.size());
    for (const auto& entry : found) {
        types.push_back(entry.second);
    }
    std::ranges::sort(types);
    return types;
}

void add_envelope(Table& table, Context& c, const TypeUse& use) {
    for (const CableTypeId id : extremes(c, use)) {
        add_type(table, c, {id, use.armour_bonded, use.is_tail});
    }
    const impedance::Impedances& z = envelope(c, use).z;
    const std::string name = type_name(c, use);
    const auto add = [&](const std::string& conductor, Complex Conductors::*part) {
        table.rows.push_back(
            row(name, conductor + ", smallest", {z.hot_low.*part, z.cold_low.*part}));
        table.rows.push_back(
            row(name, conductor + ", largest", {z.hot_high.*part, z.cold_high.*part}));
    };
    add("line", &Conductors::line);
    add("neutral", &Conductors::neutral);
    add("earth path", &Conductors::earth);
}

} // namespace

TypeUse type_of(const Context& c, base::SectionId section) {
    return {c.cable_of(section).type.type, !c.net().earth_ends[section.index()].broken, false};
}

std::string type_name(const Context& c, const TypeUse& use) {
    const std::string unbonded = use.armour_bonded ? "" : ", armour not bonded";
    if (use.type.is_valid()) {
        return c.results.catalogue.cable(use.type).name + unbonded;
    }
    return "any of " + std::to_string(stand_ins(c, use).size()) + " types" + unbonded;
}

void write_types(Context& c, const std::vector<TypeUse>& types) {
    std::vector<TypeUse> uses = types;
    std::ranges::sort(uses);
    uses.erase(std::unique(uses.begin(), uses.end()), uses.end());
    c.page.paragraph("r hot = r20 * (1 + alpha * (hot C - 20)) * factor; at 20 C r = r20. The "
                     "factor is that of armour for alternating current (" +
                     written(c.rules().armour_ac_factor) + ").");
    Table table{columns(), {}};
    std::vector<std::string> notes;
    for (const TypeUse& use : uses) {
        if (use.type.is_valid()) {
            const CableType& type = c.results.catalogue.cable(use.type);
            add_type(table, c, use);
            notes.push_back("Earth path of " + type_name(c, use) + ": " +
                            earth_text(type, use.armour_bonded) + ".");
            notes.push_back("Source of " + type.name + ": " + type.source + ".");
        } else {
            add_envelope(table, c, use);
            notes.push_back("No type is recorded: it may be any of " +
                            std::to_string(stand_ins(c, use).size()) +
                            " types. The ones with the smallest and largest ohms are listed; each "
                            "conductor takes its smallest and largest by itself.");
        }
    }
    c.page.add(std::move(table));
    c.page.add(Bullets{notes});
}

} // namespace loopwalk::report
