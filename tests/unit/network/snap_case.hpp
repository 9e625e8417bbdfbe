// A small drawn network, snapped with snap_m 0.5 and reach_m 5, in words.
#pragma once

#include "loopwalk/network/snap.hpp"

#include "support/build_layers.hpp"
#include <algorithm>
#include <optional>
#include <string>
#include <vector>

namespace loopwalk::test {

class SnapCase {
  public:
    explicit SnapCase(LayersBuilder& builder, network::SnapSettings settings = {})
        : layers(builder.finish()) {
        base::NoProgress progress;
        snapped = network::snap(layers, settings, findings, progress);
    }

    [[nodiscard]] std::string name(base::NodeId node) const {
        return network::node_name(layers, snapped.nodes[node.index()]);
    }
    [[nodiscard]] std::string cable(base::CableId id) const {
        return layers.id_text(layers.cables[id.index()].id);
    }
    /// "cable/number from to", in the order of the sections.
    [[nodiscard]] std::vector<std::string> sections() const {
        std::vector<std::string> lines;
        for (const network::Section& s : snapped.sections) {
            lines.push_back(cable(s.cable) + "/" + std::to_string(s.number) + " " + name(s.from) +
                            " " + name(s.to));
        }
        return lines;
    }
    /// "cable node", with " ambiguous" where it is.
    [[nodiscard]] std::vector<std::string> loose_ends() const {
        std::vector<std::string> lines;
        for (const network::LooseEnd& end : snapped.loose_ends) {
            lines.push_back(cable(end.cable) + " " + name(end.node) +
                            (end.ambiguous ? " ambiguous" : ""));
        }
        return lines;
    }
    /// "cable node" of the ends with nothing within reach.
    [[nodiscard]] std::vector<std::string> at_nothing() const {
        std::vector<std::string> lines;
        for (const network::LooseEnd& end : snapped.ends_at_nothing) {
            lines.push_back(cable(end.cable) + " " + name(end.node));
        }
        return lines;
    }
    /// "rule asset", sorted.
    [[nodiscard]] std::vector<std::string> found() const {
        std::vector<std::string> lines;
        for (const base::Finding& f : findings.all()) {
            lines.push_back(std::string(base::rule_name(f.rule)) + " " + f.asset_id);
        }
        std::sort(lines.begin(), lines.end());
        return lines;
    }
    [[nodiscard]] std::optional<base::Finding> finding(base::Rule rule,
                                                       const std::string& id) const {
        for (const base::Finding& f : findings.all()) {
            if (f.rule == rule && f.asset_id == id) {
                return f;
            }
        }
        return std::nullopt;
    }

    model::Layers layers;
    network::Snapped snapped;
    base::FindingList findings;
};

using Lines = std::vector<std::string>;

} // namespace loopwalk::test
