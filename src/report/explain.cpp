#include "loopwalk/report/explain.hpp"

#include "loopwalk/base/error.hpp"

#include "parts.hpp"

namespace loopwalk::report {

void write_findings(Context& c, base::AssetLayer layer, const std::string& id) {
    std::vector<std::string> items;
    for (const base::Finding& finding : c.results.findings.all()) {
        if (finding.layer != layer || finding.asset_id != id) {
            continue;
        }
        std::string text = std::string(base::severity_name(finding.severity)) + ", " +
                           std::string(base::rule_name(finding.rule)) + ": " + finding.message;
        text += finding.clause.empty() ? "" : " (" + finding.clause + ")";
        text += finding.fix.empty() ? "" : " " + finding.fix;
        items.push_back(std::move(text));
    }
    c.page.heading("Findings here");
    if (items.empty()) {
        c.page.paragraph("None.");
    } else {
        c.page.add(Bullets{items});
    }
}

void write_cautions(Context& c) {
    c.page.heading("Cautions");
    c.page.add(Bullets{output::cautions()});
}

Page explain(const output::Results& results, assess::Judge& judge, Asset asset) {
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
    case base::AssetLayer::mains:
    case base::AssetLayer::terminations:
    case base::AssetLayer::loads:
    case base::AssetLayer::readings:
        throw base::InternalError("no pages for this layer");
    }
    return std::move(context.page);
}

} // namespace loopwalk::report
