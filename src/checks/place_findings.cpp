#include "loopwalk/base/text.hpp"
#include "loopwalk/gis/box_index.hpp"
#include "loopwalk/model/names.hpp"

#include "network_findings.hpp"
#include <algorithm>

namespace loopwalk::checks {
namespace {

using base::Finding;
using base::Rule;
using model::Earthing;

std::string earthing_text(Earthing earthing) {
    return std::string(earthing == Earthing::unknown ? "unknown" : earthing_name(earthing));
}

void report_label(const CheckContext& context, base::CableId id) {
    const ReviewInput& in = context.in;
    const model::Cable& cable = in.layers.cables[id.index()];
    const auto& sections = in.network.snapped.first_section;
    for (std::uint32_t s = sections[id.index()]; s < sections[id.index() + 1]; ++s) {
        const WayId way = in.figures.sections[s].way;
        if (!way.is_valid()) {
            continue;
        }
        const base::TextId traced = in.network.ways[way.index()].circuit;
        if (!traced.is_valid() || traced == cable.circuit ||
            context.build.is_also_fed_by(in.network.section_from[s], cable.circuit)) {
            continue;
        }
        Finding f = context.build.at_cable(Rule::circuit_differs, id);
        f.message = "Cable " + f.asset_id + " is labelled circuit " +
                    in.layers.id_text(cable.circuit) + ", but is traced to circuit " +
                    in.layers.id_text(traced) + ".";
        f.fix = "Check which circuit feeds it; correct the label or the cable's ends.";
        context.findings.add(std::move(f));
        return;
    }
}

} // namespace

void report_cables(const CheckContext& context) {
    const ReviewInput& input = context.in;
    for (std::size_t c = 0; c < input.layers.cables.size(); ++c) {
        const model::Cable& cable = input.layers.cables[c];
        if (!model::conducts(cable.status)) {
            continue;
        }
        if (cable.circuit.is_valid()) {
            report_label(context, base::CableId(c));
        }
        const bool combined =
            cable.type.type.is_valid() &&
            input.catalogue.cable(cable.type.type).earth_path == catalogue::EarthPath::neutral;
        if (!combined || cable.owner != model::Owner::council) {
            continue;
        }
        Finding f = context.build.at_cable(Rule::pen_in_installation, base::CableId(c));
        f.message = "Cable " + f.asset_id +
                    " is the council's and has a combined neutral and earth: if that is lost, "
                    "metalwork beyond it becomes live and no fuse opens.";
        f.fix = "Ask who owns it; a cable with a separate earth is the candidate cure.";
        context.findings.add(std::move(f));
    }
}

void report_earths(const CheckContext& context) {
    const ReviewInput& input = context.in;
    std::vector<std::uint32_t> columns;
    std::vector<Earthing> earthing;
    std::vector<base::Box> boxes;
    for (std::uint32_t c = 0; c < input.layers.columns.size(); ++c) {
        const model::Column& column = input.layers.columns[c];
        const Earthing e =
            figures::earthing_of(input.layers, input.network, input.figures, ColumnId(c));
        if (column.has_place && model::conducts(column.status) && e != Earthing::unknown) {
            columns.push_back(c);
            earthing.push_back(e);
            boxes.push_back({column.place.x, column.place.y, column.place.x, column.place.y});
        }
    }
    const bool all_alike =
        std::ranges::adjacent_find(earthing, std::not_equal_to{}) == earthing.end();
    if (all_alike) {
        return;
    }
    const gis::BoxIndex index(boxes);
    const double reach = input.rules.earths_within_reach.value();
    std::vector<std::uint32_t> found;
    for (std::uint32_t i = 0; i < columns.size(); ++i) {
        const model::Column& a = input.layers.columns[columns[i]];
        index.query({a.place.x - reach, a.place.y - reach, a.place.x + reach, a.place.y + reach},
                    found);
        for (const std::uint32_t j : found) {
            const model::Column& b = input.layers.columns[columns[j]];
            const double apart = base::distance(a.place, b.place);
            if (j <= i || earthing[i] == earthing[j] || apart > reach) {
                continue;
            }
            Finding f = context.build.at_column(Rule::earths_within_reach, ColumnId(columns[i]));
            f.supply_id.clear(); // of two columns, maybe of two supplies
            f.way.clear();
            f.value = apart;
            f.limit = reach;
            f.message = "Columns " + f.asset_id + " (" + earthing_text(earthing[i]) + ") and " +
                        input.layers.id_text(b.id) + " (" + earthing_text(earthing[j]) + ") are " +
                        base::short_text(apart, 3) +
                        " m apart: metal on different earths within reach.";
            f.concerns.push_back({base::AssetLayer::columns, columns[j]});
            f.fix = "Check the earthing of both on site.";
            context.findings.add(std::move(f));
        }
    }
}

} // namespace loopwalk::checks
