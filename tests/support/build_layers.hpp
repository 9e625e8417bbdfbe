// Layers from plain lists, put into canonical order as the input stage does: by id text, then
// geometry; a line runs from its end with the smaller (x, y), the parts of a cable are sorted.
// So the order of the calls, of parts and of vertices changes nothing.
#pragma once

#include "loopwalk/model/layers.hpp"

#include <algorithm>
#include <deque>
#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace loopwalk::test {

using base::Point2;
using base::Polyline;

class LayersBuilder {
  public:
    struct CableEntry {
        model::Cable record;
        std::vector<Polyline> lines;
    };

    /// An id for a label; empty = null.
    base::TextId text(std::string_view label) {
        return label.empty() ? base::TextId() : m_layers.text.add(label);
    }

    // The records handed out may be filled in further until finish().
    model::Column& add_column(std::string_view id, double x, double y) {
        return add_point(m_columns, id, x, y);
    }
    model::Supply& add_supply(std::string_view id, double x, double y) {
        return add_point(m_supplies, id, x, y);
    }
    model::Joint& add_joint(std::string_view id, double x, double y) {
        return add_point(m_joints, id, x, y);
    }
    model::Cable& add_cable(std::string_view id, Polyline line, std::string_view circuit = {}) {
        return add_cable_of_parts(id, {std::move(line)}, circuit);
    }
    model::Cable& add_cable_of_parts(std::string_view id, std::vector<Polyline> lines,
                                     std::string_view circuit = {}) {
        CableEntry& entry = m_cables.emplace_back();
        entry.record.id = text(id);
        entry.record.circuit = text(circuit);
        entry.lines = std::move(lines);
        return entry.record;
    }
    model::Main& add_main(std::string_view id, Polyline line) {
        model::Main& main = m_mains.emplace_back();
        main.id = text(id);
        main.lines.push_back(std::move(line));
        return main;
    }

    /// The layers; the builder is used up.
    [[nodiscard]] model::Layers finish() {
        m_layers.columns = in_order(m_columns);
        m_layers.supplies = in_order(m_supplies);
        m_layers.joints = in_order(m_joints);
        std::stable_sort(m_mains.begin(), m_mains.end(), [&](const auto& a, const auto& b) {
            return m_layers.text.view(a.id) < m_layers.text.view(b.id);
        });
        m_layers.mains.assign(m_mains.begin(), m_mains.end());
        for (CableEntry& entry : m_cables) {
            make_canonical(entry.lines);
        }
        std::stable_sort(m_cables.begin(), m_cables.end(),
                         [&](const CableEntry& a, const CableEntry& b) {
                             return std::pair(m_layers.text.view(a.record.id), a.lines) <
                                    std::pair(m_layers.text.view(b.record.id), b.lines);
                         });
        for (const CableEntry& entry : m_cables) {
            append(entry);
        }
        return std::move(m_layers);
    }

  private:
    template <class Asset>
    Asset& add_point(std::deque<Asset>& assets, std::string_view id, double x, double y) {
        Asset& asset = assets.emplace_back();
        asset.id = text(id);
        asset.place = {x, y};
        asset.has_place = true;
        return asset;
    }

    template <class Asset>
    std::vector<Asset> in_order(const std::deque<Asset>& assets) const {
        std::vector<Asset> sorted(assets.begin(), assets.end());
        std::stable_sort(sorted.begin(), sorted.end(), [&](const Asset& a, const Asset& b) {
            return std::pair(m_layers.text.view(a.id), a.place) <
                   std::pair(m_layers.text.view(b.id), b.place);
        });
        return sorted;
    }

    static void make_canonical(std::vector<Polyline>& lines) {
        for (Polyline& line : lines) {
            Polyline reversed(line.rbegin(), line.rend());
            if (reversed < line) {
                line = std::move(reversed);
            }
        }
        std::sort(lines.begin(), lines.end());
    }

    void append(const CableEntry& entry) {
        model::Cable cable = entry.record;
        cable.first_part = static_cast<std::uint32_t>(m_layers.parts.size());
        cable.part_count = static_cast<std::uint32_t>(entry.lines.size());
        for (const Polyline& line : entry.lines) {
            const base::Metre length(base::length(line));
            m_layers.parts.push_back({base::CableId(m_layers.cables.size()),
                                      static_cast<std::uint32_t>(m_layers.vertices.size()),
                                      static_cast<std::uint32_t>(line.size()), length, length});
            m_layers.vertices.insert(m_layers.vertices.end(), line.begin(), line.end());
        }
        m_layers.cables.push_back(cable);
    }

    model::Layers m_layers;
    // Deques, so that references to what was added stay valid.
    std::deque<model::Column> m_columns;
    std::deque<model::Supply> m_supplies;
    std::deque<model::Joint> m_joints;
    std::deque<model::Main> m_mains;
    std::deque<CableEntry> m_cables;
};

} // namespace loopwalk::test
