// Every cable end in a column, supply or joint.
#include "loopwalk/base/text.hpp"
#include "loopwalk/model/names.hpp"

#include "fields.hpp"
#include "writer.hpp"
#include <array>

namespace loopwalk::output {
namespace {

using ends::CableEnd;

constexpr std::size_t kMostNamed = 4;

struct EndView {
    const Writer& w;
    base::AssetLayer layer{};
    std::string_view asset;
    const CableEnd& end;
};

std::string other_end(const EndView& v) {
    if (!v.end.other.is_valid()) {
        return {};
    }
    const auto main = v.w.results.ends.main_at(v.end.other);
    return main.has_value() ? v.w.layers.id_text(v.w.layers.mains[main->index()].id)
                            : v.w.node_name(v.end.other);
}

/// What each infeed gives, told once, joined by " + "; empty where nothing feeds the end.
template <class TextOf>
std::string of_feeds(const EndView& v, TextOf text_of) {
    if (!v.end.fed_by.is_valid()) {
        return {};
    }
    std::vector<std::string> texts;
    const trace::Component& component = v.w.results.trace.components[v.end.fed_by.index()];
    for (const base::InfeedId infeed : v.w.results.trace.infeeds_of(component)) {
        std::string text = text_of(infeed);
        if (text.empty() || std::ranges::find(texts, text) != texts.end()) {
            continue;
        }
        if (texts.size() == kMostNamed) { // of a thousand joined ones nobody reads the names
            texts.emplace_back("more");
            break;
        }
        texts.push_back(std::move(text));
    }
    return base::joined(texts, " + ");
}

// clang-format off: one field a line
constexpr std::array kEndFields = {
    Field<EndView>{"asset_layer", kText,
                   [](Cell c, const EndView& v) { c.set(base::layer_name(v.layer)); }},
    Field<EndView>{"asset_id", kText, [](Cell c, const EndView& v) { c.set(v.asset); }},
    Field<EndView>{"cable_id", kText,
                   [](Cell c, const EndView& v) {
                       c.set(v.w.layers.text.view(v.w.layers.cables[v.end.cable.index()].id));
                   }},
    Field<EndView>{"other_end_id", kText,
                   [](Cell c, const EndView& v) { c.set(std::string_view(other_end(v))); }},
    Field<EndView>{"state", kText,
                   [](Cell c, const EndView& v) { c.set(ends::end_state_name(v.end.state)); }},
    Field<EndView>{"supply_id", kText,
                   [](Cell c, const EndView& v) {
                       c.set(std::string_view(of_feeds(v, [&](base::InfeedId infeed) {
                           return v.w.explain.supply_name(infeed);
                       })));
                   }},
    Field<EndView>{"way", kText,
                   [](Cell c, const EndView& v) {
                       c.set(std::string_view(of_feeds(v, [&](base::InfeedId infeed) {
                           return v.w.explain.way_name(infeed);
                       })));
                   }},
    Field<EndView>{"phase", kText,
                   [](Cell c, const EndView& v) {
                       c.set(std::string_view(of_feeds(v, [&](base::InfeedId infeed) {
                           return std::string(
                               model::phase_name(figures::phase_of(v.w.layers, v.w.net, infeed)));
                       })));
                   }},
    Field<EndView>{
        "live_with_fuse_out", kText,
        [](Cell c, const EndView& v) { c.set(ends::stays_live_name(v.end.with_fuse_out)); }},
    Field<EndView>{
        "live_with_way_out", kText,
        [](Cell c, const EndView& v) { c.set(ends::stays_live_name(v.end.with_way_out)); }},
    Field<EndView>{
        "live_with_supply_off", kText,
        [](Cell c, const EndView& v) { c.set(ends::stays_live_name(v.end.with_supply_off)); }},
};
// clang-format on

} // namespace

void Writer::write_cable_ends() {
    const std::span<const Field<EndView>> fields(kEndFields);
    // No index: the rows are found by their asset, and lie on top of one another.
    auto writer = m_out.create_layer(
        {"cable_ends", gis::GeometryKind::point, gis::SpatialIndex::no, declared(fields)},
        results.read.cables);
    const auto write = [&](base::AssetLayer layer, base::TextId id, base::NodeId node) {
        if (!node.is_valid()) {
            return;
        }
        const base::Point2 at = place(net.snapped.nodes[node.index()].place);
        for (const CableEnd& end : results.ends.at(node)) {
            fill(writer.row(), fields, EndView{*this, layer, layers.text.view(id), end});
            writer.write(at);
        }
    };
    m_progress.stage("write cable ends", layers.columns.size());
    for (std::size_t c = 0; c < layers.columns.size(); ++c) {
        write(base::AssetLayer::columns, layers.columns[c].id, net.snapped.column_node[c]);
        m_progress.step(c);
    }
    for (std::size_t s = 0; s < layers.supplies.size(); ++s) {
        write(base::AssetLayer::supplies, layers.supplies[s].id, net.snapped.supply_node[s]);
    }
    for (std::size_t j = 0; j < layers.joints.size(); ++j) {
        write(base::AssetLayer::joints, layers.joints[j].id, net.snapped.joint_node[j]);
    }
}

} // namespace loopwalk::output
