// Closed loops on the way: their sections, and the impedance over all their branches at once.
#include "parts.hpp"
#include <algorithm>
#include <array>

namespace loopwalk::report {
namespace {

using base::SectionId;
using impedance::Complex;
using impedance::Conductors;
using impedance::Impedances;

struct NamedConductor {
    const char* name;
    ConductorOf part;
};
struct NamedCondition {
    const char* name;
    ConditionOf when;
};

constexpr std::array<NamedConductor, 3> kConductors{{{"line", &Conductors::line},
                                                     {"earth", &Conductors::earth},
                                                     {"neutral", &Conductors::neutral}}};
constexpr std::array<NamedCondition, 4> kConditions{{{"hot, high", &Impedances::hot_high},
                                                     {"hot, low", &Impedances::hot_low},
                                                     {"20 C, low", &Impedances::cold_low},
                                                     {"20 C, high", &Impedances::cold_high}}};

std::vector<SectionId> sections_in(const trace::Block& block) {
    std::vector<SectionId> sections;
    for (const trace::Block::Section& section : block.sections) {
        sections.push_back(section.id);
    }
    return sections;
}

void write_sections(Context& c, const LoopNetwork& loop, std::size_t first) {
    Table links{{{"joined"}, {"with"}, {"by"}}, {}};
    for (const trace::Block::Link& link : loop.block().links) {
        links.rows.push_back({loop.name(link.a), loop.name(link.b),
                              link.device.is_valid()
                                  ? c.explain.fuse_text(c.net().devices[link.device.index()].fuse) +
                                        " of " + c.explain.device_name(link.device)
                                  : "no device"});
    }
    if (!links.rows.empty()) {
        c.page.paragraph("Joined without a cable, while their devices are closed:");
        c.page.add(std::move(links));
    }
    Table table{{{"no", Align::number}, {"section"}, {"from"}, {"to"}, {"cable type"}}, {}};
    std::size_t number = first;
    for (const trace::Block::Section& section : loop.block().sections) {
        table.rows.push_back({std::to_string(number++), c.section_name(section.id),
                              loop.name(section.a), loop.name(section.b),
                              type_name(c, type_of(c, section.id))});
    }
    c.page.add(std::move(table));
}

Complex along(const LoopNetwork& loop, const RingBranch& branch, ConductorOf part,
              ConditionOf when) {
    Complex sum;
    for (const std::size_t section : branch) {
        sum += loop.ohms(section, part, when);
    }
    return sum;
}

std::string numbers_of(const RingBranch& branch, std::size_t first) {
    std::string text;
    for (const std::size_t section : branch) {
        text += (text.empty() ? "" : ", ") + std::to_string(first + section);
    }
    return text.empty() ? "none" : text;
}

/// One row for each conductor and condition; a condition that brings nothing new is left out.
void write_impedances(Context& c, const LoopNetwork& loop, const LoopStep& step, std::size_t first,
                      LoopOhms& ohms) {
    const std::vector<RingBranch> ways = loop.ring_branches(step.exit);
    const bool is_ring = ways.size() == 2;
    Table table{{{"conductor"}, {"when"}}, {}};
    if (is_ring) {
        table.columns.insert(table.columns.end(), {{"one way r", Align::number},
                                                   {"one way x", Align::number},
                                                   {"other way r", Align::number},
                                                   {"other way x", Align::number}});
        c.page.paragraph("It is one ring. One way round: sections " + numbers_of(ways[0], first) +
                         "; the other: sections " + numbers_of(ways[1], first) +
                         ". Both at once, conductor by conductor: Z = Za * Zb / (Za + Zb), with "
                         "Za = r + jx one way and Zb the other.");
    } else {
        c.page.paragraph("It has more than two ways round. The impedance over all of them at once "
                         "is the voltage at " +
                         loop.name(step.exit) +
                         " with 1 A put in there and taken out at the beginning of the loop, "
                         "worked for all junctions together, conductor by conductor.");
    }
    table.columns.insert(table.columns.end(), {{"r", Align::number}, {"x", Align::number}});
    for (const NamedConductor& conductor : kConductors) {
        Complex before;
        for (const NamedCondition& condition : kConditions) {
            const Complex z =
                loop.drive(conductor.part, condition.when, step.exit).value_or(Complex());
            ohms.z.*condition.when.*conductor.part = z;
            if (z == before) {
                continue;
            }
            before = z;
            std::vector<std::string> row{conductor.name, condition.name};
            for (const RingBranch& way : ways) {
                const Complex one = along(loop, way, conductor.part, condition.when);
                row.push_back(written(one.real()));
                row.push_back(written(one.imag()));
            }
            row.push_back(written(z.real()));
            row.push_back(written(z.imag()));
            table.rows.push_back(std::move(row));
        }
    }
    c.page.add(std::move(table));
}

} // namespace

bool can_work_loops(const Context& c, const Trail& trail) {
    return std::ranges::all_of(trail.loop_steps, [&](const LoopStep& step) {
        const bool sure = std::ranges::all_of(step.block.sections, [&](const auto& section) {
            const SectionState state = state_of(c, section.id);
            return state.earth == impedance::EarthPathState::intact &&
                   state.neutral == impedance::Presence::yes;
        });
        return sure && trail.is_one_supply && step.block.terminals.size() == 1 &&
               LoopNetwork(c, step.block).is_complete();
    });
}

std::vector<SectionId> loop_sections(const Trail& trail) {
    std::vector<SectionId> sections;
    for (const LoopStep& step : trail.loop_steps) {
        for (const SectionId id : sections_in(step.block)) {
            sections.push_back(id);
        }
    }
    return sections;
}

std::vector<LoopOhms> write_loops(Context& c, const Trail& trail) {
    std::vector<LoopOhms> found;
    std::size_t first = c.sections_of(trail).size() + 1;
    for (const LoopStep& step : trail.loop_steps) {
        const LoopNetwork loop(c, step.block);
        const auto sections = sections_in(step.block);
        c.page.heading("Closed loop " + std::to_string(found.size() + 1));
        c.page.paragraph("The current passes a closed loop from " +
                         loop.name(step.block.terminals[0].vertex) + " to " + loop.name(step.exit) +
                         ", over all its branches at once. Line, earth path and neutral divide in "
                         "their own ways. Its sections, lengths in m, ohms of each:");
        write_sections(c, loop, first);
        write_lengths(c, sections, first);
        write_section_ohms(c, sections, first);
        LoopOhms ohms;
        write_impedances(c, loop, step, first, ohms);
        found.push_back(ohms);
        first += sections.size();
    }
    return found;
}

} // namespace loopwalk::report
