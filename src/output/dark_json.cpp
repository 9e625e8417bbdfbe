// Dark columns for machines.
#include "loopwalk/base/text.hpp"
#include "loopwalk/output/dark.hpp"

#include <nlohmann/json.hpp>

namespace loopwalk::output {
namespace {

using base::ColumnId;
using outage::Loss;
using outage::PlaceKind;
using Json = nlohmann::ordered_json;

class DarkJson {
  public:
    explicit DarkJson(const Results& results) : m_r(results), m_words(results) {}

    [[nodiscard]] Json whole(const outage::Seen& seen, const outage::Diagnosis& d) const {
        Json json{{"program", "loopwalk " + std::string(base::program_version())},
                  {"out", ids(seen.out)},
                  {"lit", ids(seen.lit)},
                  {"follows_switching", seen.switching == outage::FollowsSwitching::yes},
                  {"looked_at", d.looked_at.size()},
                  {"complete_singles", d.complete_singles}};
        json["look_first"] = Json::array();
        if (const auto all = outage::in_order(d, seen.switching); !all.empty()) {
            for (const Loss& loss : all.front()->alternatives.front()) {
                json["look_first"].push_back(m_words.first_step(loss));
            }
        }
        json["singles"] = explanations(d.singles);
        json["pairs"] = explanations(d.pairs);
        json["pairs_whole"] = d.are_pairs_whole;
        json["next_column"] = next(d);
        json["assumed"] = assumed(d.assumed);
        json["cautions"] = cautions();
        return json;
    }

  private:
    [[nodiscard]] Json ids(const std::vector<ColumnId>& columns) const {
        Json list = Json::array();
        for (const ColumnId id : columns) {
            list.push_back(m_words.column(id));
        }
        return list;
    }

    [[nodiscard]] Json cable_ids(const std::vector<base::CableId>& cables) const {
        Json list = Json::array();
        for (const base::CableId id : cables) {
            list.push_back(m_r.layers().id_text(m_r.layers().cables[id.index()].id));
        }
        return list;
    }

    [[nodiscard]] Json next(const outage::Diagnosis& d) const {
        return d.next.has_value() ? Json{{"column_id", m_words.column(d.next->column)},
                                         {"left_if_out", d.next->left_if_out},
                                         {"left_if_lit", d.next->left_if_lit}}
                                  : Json();
    }

    [[nodiscard]] Json assumed(const outage::Assumed& a) const {
        std::vector<base::CableId> sides;
        for (const base::SectionId id : a.side_unknown) {
            sides.push_back(m_r.network.snapped.sections[id.index()].cable);
        }
        return {{"not_traced", ids(a.not_traced)},
                {"by_near_main", ids(a.by_near_main)},
                {"phase_unknown", ids(a.phase_unknown)},
                {"switching_unknown", ids(a.switching_unknown)},
                {"fed_twice", ids(a.fed_twice)},
                {"status_unclear", cable_ids(a.status_unclear)},
                {"proposed", cable_ids(a.proposed)},
                {"side_unknown", cable_ids(sides)}};
    }

    [[nodiscard]] Json explanations(const std::vector<outage::Explanation>& all) const {
        Json list = Json::array();
        for (const outage::Explanation& e : all) {
            Json alternatives = Json::array();
            for (const auto& losses : e.alternatives) {
                Json together = Json::array();
                for (const Loss& loss : losses) {
                    together.push_back(loss_json(loss));
                }
                alternatives.push_back(std::move(together));
            }
            list.push_back({{"complete", e.is_complete()},
                            {"explained", ids(e.explained)},
                            {"unexplained", ids(e.unexplained)},
                            {"contradicted", ids(e.contradicted)},
                            {"relying_on_unknown", ids(e.relying)},
                            {"also_out", ids(e.also_out)},
                            {"may_be_out", ids(e.may_be_out)},
                            {"alternatives", std::move(alternatives)}});
        }
        return list;
    }

    [[nodiscard]] Json loss_json(const Loss& loss) const {
        Json json{{"kind", place_kind_name(loss.place.kind)},
                  {"scope", scope_name(loss.scope)},
                  {"what", m_words.what(loss)},
                  {"distributors", m_words.is_distributors(loss)}};
        add_asset(json, loss.place);
        return json;
    }

    void add_asset(Json& json, const outage::Place& place) const;

    const Results& m_r;
    LossWords m_words;
};

void DarkJson::add_asset(Json& json, const outage::Place& place) const {
    const model::Layers& layers = m_r.layers();
    const auto asset = [&](const char* layer, base::TextId id) {
        json["asset_layer"] = layer;
        json["asset_id"] = layers.id_text(id);
    };
    switch (place.kind) {
    case PlaceKind::cut_out:
    case PlaceKind::lamp:
    case PlaceKind::terminals:
    case PlaceKind::service:
    case PlaceKind::unrecorded:
        asset("columns", layers.columns[place.index].id);
        break;
    case PlaceKind::fused_joint:
    case PlaceKind::joint:
        asset("joints", layers.joints[place.index].id);
        break;
    case PlaceKind::busbar:
    case PlaceKind::supply:
    case PlaceKind::substation:
        asset("supplies", layers.supplies[place.index].id);
        break;
    case PlaceKind::main:
        asset("mains", layers.mains[place.index].id);
        break;
    case PlaceKind::tap:
        asset("mains", layers.mains[m_r.network.main_of(base::InfeedId(place.index))->index()].id);
        break;
    case PlaceKind::way: {
        const network::Way& way = m_r.network.ways[place.index];
        asset("supplies", layers.supplies[way.supply.index()].id);
        json["way"] = layers.id_text(way.name);
        break;
    }
    case PlaceKind::section: {
        const base::SectionId id(place.index);
        const network::Section& section = m_r.network.snapped.sections[place.index];
        const base::TextId cable = layers.cables[section.cable.index()].id;
        const LossWords::Ends ends = m_words.ends_of(id);
        asset("cables", cable);
        json["section_id"] = layers.id_text(cable) + "/" + std::to_string(section.number);
        for (const auto& [name, node] :
             {std::pair("from_id", ends.from), std::pair("to_id", ends.to)}) {
            json[name] = network::node_name(layers, m_r.network.snapped.nodes[node.index()]);
        }
        break;
    }
    case PlaceKind::meeting:
        json["node"] = network::node_name(layers, m_r.network.snapped.nodes[place.index]);
        break;
    case PlaceKind::passed:
        break;
    }
}

} // namespace

std::string dark_json(const Results& results, const outage::Seen& seen,
                      const outage::Diagnosis& diagnosis) {
    // Records may hold bytes that are no UTF-8: they become U+FFFD rather than an error.
    return DarkJson(results)
               .whole(seen, diagnosis)
               .dump(2, ' ', false, Json::error_handler_t::replace) +
           "\n";
}

} // namespace loopwalk::output
