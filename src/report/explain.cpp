#include "loopwalk/report/explain.hpp"

#include "loopwalk/base/error.hpp"

#include "parts.hpp"
#include <algorithm>

namespace loopwalk::report {

namespace {

constexpr std::size_t kMostOnWay = 10;
constexpr std::size_t kMostHere = 40; // of a supply or way, which all that it feeds concerns

std::string finding_text(const base::Finding& finding) {
    std::string text = std::string(base::severity_name(finding.severity)) + ", " +
                       std::string(base::rule_name(finding.rule)) + ": " + finding.message;
    text += finding.clause.empty() ? "" : " (" + finding.clause + ")";
    text += finding.fix.empty() ? "" : " " + finding.fix;
    return text;
}

void write_list(Context& c, const std::string& heading, const std::vector<std::string>& items) {
    c.page.heading(heading);
    if (items.empty()) {
        c.page.paragraph("None.");
    } else {
        c.page.add(Bullets{items});
    }
}

std::vector<std::string> shortened(std::vector<std::string> items, std::size_t most) {
    if (items.size() > most) {
        const std::size_t more = items.size() - most;
        items.resize(most);
        items.push_back("and " + std::to_string(more) + " more, in the output of check");
    }
    return items;
}

} // namespace

void write_findings(Context& c, base::Concern asset, base::InfeedId infeed) {
    const bool has_way = infeed.is_valid() && c.net().way_of(infeed).has_value();
    const std::string supply = has_way ? c.explain.supply_name(infeed) : "";
    const std::string way = has_way ? c.explain.way_name(infeed) : "";
    const checks::Concerned concerned(c.layers(), c.net());
    std::vector<std::string> here;
    std::vector<std::string> on_way;
    for (const base::Finding& finding : c.results.findings.all()) { // sorted by severity
        if (std::ranges::binary_search(concerned.by(finding), asset)) {
            here.push_back(finding_text(finding));
        } else if (has_way && finding.supply_id == supply && finding.way == way) {
            on_way.push_back(finding_text(finding));
        }
    }
    const std::size_t most = asset.layer == base::AssetLayer::columns ? here.size() : kMostHere;
    write_list(c, "Findings here", shortened(std::move(here), most));
    if (has_way) {
        write_list(c, "Other findings on the same way", shortened(std::move(on_way), kMostOnWay));
    }
}

void write_cautions(Context& c) {
    c.page.heading("Cautions");
    c.page.add(Bullets{output::cautions()});
}

Page explain(const output::Results& results, protection::Judge& judge, Asset asset) {
    Context context(results, judge);
    switch (asset.layer) {
    case base::AssetLayer::columns:
        write_column(context, base::ColumnId(asset.index));
        break;
    case base::AssetLayer::cables:
        write_cable(context, base::CableId(asset.index));
        break;
    case base::AssetLayer::supplies:
        write_supply(context, base::SupplyId(asset.index));
        break;
    case base::AssetLayer::joints:
        write_joint(context, base::JointId(asset.index));
        break;
    case base::AssetLayer::ways:
        write_way(context, base::WayId(asset.index));
        break;
    case base::AssetLayer::mains:
    case base::AssetLayer::terminations:
    case base::AssetLayer::loads:
    case base::AssetLayer::readings:
        throw base::InternalError("no pages for this layer");
    }
    return std::move(context.page);
}

} // namespace loopwalk::report
