// Readings beside the records of their asset: worse ones, which are used, and those that nothing is
// held against.
#include "loopwalk/base/text.hpp"

#include "network_findings.hpp"
#include <array>
#include <map>
#include <optional>

namespace loopwalk::checks {

namespace {

using base::AssetLayer;
using base::Finding;
using base::Rule;
using base::short_text;

class ReadingReporter : Reporter {
  public:
    explicit ReadingReporter(const CheckContext& context) : Reporter(context) {}

    void run() {
        for (std::size_t s = 0; s < m_in.layers.supplies.size(); ++s) {
            at_source(base::SupplyId(s));
        }
        for (std::size_t c = 0; c < m_in.layers.columns.size(); ++c) {
            current(ColumnId(c));
        }
        for (const model::ElectrodeReading& reading : m_in.layers.electrodes_read) {
            electrode(reading);
        }
    }

  private:
    [[nodiscard]] Finding at_supply(base::SupplyId id) const {
        const model::Supply& supply = m_in.layers.supplies[id.index()];
        Finding f = base::finding_of(Rule::reading_over_record);
        f.layer = AssetLayer::supplies;
        f.asset_id = m_in.layers.id_text(supply.id);
        f.supply_id = f.asset_id;
        f.place = supply.has_place ? std::optional(supply.place) : std::nullopt;
        return f;
    }

    /// A reading that takes the place of what is recorded; nothing recorded: of what stands for it.
    struct Taken {
        double read = 0.0;
        std::optional<double> recorded;
        const char* unit = nullptr;
        std::string what; ///< "at supply P"
        std::string use;  ///< "is used as its Ze"
        const char* fix = nullptr;
    };

    void add(Finding f, const Taken& taken) {
        f.value = taken.read;
        f.limit = taken.recorded;
        f.unit = taken.unit;
        const std::string record =
            taken.recorded.has_value()
                ? "the recorded " + short_text(*taken.recorded) + " " + taken.unit
                : std::string("what its record, or its lack, stands for");
        f.message = "A reading of " + short_text(taken.read) + " " + taken.unit + " " + taken.what +
                    " is above " + record + ": the reading " + taken.use + ".";
        f.fix = taken.fix;
        m_findings.add(std::move(f));
    }

    template <class Unit>
    static std::optional<double> number(const base::Maybe<Unit>& recorded) {
        return recorded.has_value() ? std::optional((*recorded).value()) : std::nullopt;
    }

    void at_source(base::SupplyId id) {
        const model::Supply& supply = m_in.layers.supplies[id.index()];
        const impedance::Source& source = m_in.figures.sources[id.index()];
        const std::string what = "at supply " + m_in.layers.id_text(supply.id);
        if (source.is_ze_read) {
            add(at_supply(id),
                {(*supply.ze_read).value(), number(supply.ze), "ohm", what, "is used as its Ze",
                 "Ask the distributor about its earth or neutral; correct the "
                 "record."});
        }
        if (source.is_pscc_read) {
            add(at_supply(id), {(*supply.pscc_read_ka).value(), number(supply.pscc_ka), "kA", what,
                                "is used as its prospective current",
                                "Correct the record; ask the distributor what it states."});
        }
    }

    void current(ColumnId id) {
        const base::Maybe<base::Number> read = m_judge.readings().largest_ka(id);
        const figures::ColumnFigures& figures = m_in.figures.columns[id.index()];
        if (!read.has_value() || !figures::has_figures(figures.state) ||
            !figures.pscc_high_ka.has_value() || *read <= *figures.pscc_high_ka) {
            return;
        }
        Finding f = m_build.at_column(Rule::reading_over_record, id);
        f.value = (*read).value();
        f.limit = (*figures.pscc_high_ka).value();
        f.unit = "kA";
        f.message = "A reading of " + short_text(*f.value) + " kA at column " + f.asset_id +
                    " is above the largest current that the records allow there, " +
                    short_text(*f.limit) + " kA: its own fuse is held against the reading.";
        f.fix = "Check the prospective current recorded at the source, and cables and lengths.";
        m_findings.add(std::move(f));
    }

    void electrode(const model::ElectrodeReading& reading) {
        if (!reading.recorded.has_value()) {
            return; // a test is how an electrode comes to be on record
        }
        const bool is_column = reading.layer == AssetLayer::columns;
        Finding f = is_column
                        ? m_build.at_column(Rule::reading_over_record, ColumnId(reading.index))
                        : at_supply(base::SupplyId(reading.index));
        const std::string what =
            "of the electrode of " + std::string(is_column ? "column " : "supply ") + f.asset_id;
        add(std::move(f), {reading.read.value(), number(reading.recorded), "ohm", what, "is used",
                           "Test again; look at the electrode and its connection; correct the "
                           "record."});
    }
};

/// Readings that no figure is held against: whoever reads the result must not think they were used.
class UnusedReadings : Reporter {
  public:
    explicit UnusedReadings(const CheckContext& context) : Reporter(context) {}

    void run() {
        if (m_in.layers.readings.empty()) {
            return;
        }
        for (const AssetLayer layer : kWhereTestsAre) {
            gather(layer);
        }
        for (const model::Reading& row : m_in.layers.readings) {
            if (const auto asset = asset_of(row)) {
                count(row, *asset);
            }
        }
        for (const auto& [asset, count] : m_unused) {
            report(asset, count);
        }
    }

  private:
    struct Asset {
        AssetLayer layer{};
        std::uint32_t index = 0;
        friend auto operator<=>(const Asset&, const Asset&) = default;
    };
    /// In this order an id that several layers have is looked for.
    static constexpr std::array kWhereTestsAre{AssetLayer::columns, AssetLayer::supplies,
                                               AssetLayer::mains, AssetLayer::cables,
                                               AssetLayer::joints};

    void gather(AssetLayer layer) {
        const auto add = [&](const auto& rows) {
            for (std::uint32_t i = 0; i < rows.size(); ++i) {
                m_assets.emplace(std::pair(layer, rows[i].id), i);
            }
        };
        const model::Layers& layers = m_in.layers;
        layer == AssetLayer::columns    ? add(layers.columns)
        : layer == AssetLayer::supplies ? add(layers.supplies)
        : layer == AssetLayer::mains    ? add(layers.mains)
        : layer == AssetLayer::cables   ? add(layers.cables)
                                        : add(layers.joints);
    }

    /// Nothing where the records have no such asset, which is a finding of its own.
    [[nodiscard]] std::optional<Asset> asset_of(const model::Reading& row) const {
        for (const AssetLayer layer : kWhereTestsAre) {
            const auto at = m_assets.find(std::pair(layer, row.asset_id));
            if (at != m_assets.end() && (!row.has_layer || row.asset_layer == layer)) {
                return Asset{layer, at->second};
            }
        }
        return std::nullopt;
    }

    [[nodiscard]] bool is_used(const model::Reading& row, Asset asset) const {
        if (asset.layer != AssetLayer::supplies) {
            return asset.layer == AssetLayer::columns;
        }
        const bool is_source =
            m_in.layers.supplies[asset.index].kind != model::SupplyKind::section_pillar;
        const bool is_loop_of_tt = row.zs.has_value() && m_in.figures.sources[asset.index].is_tt;
        return is_source && !is_loop_of_tt;
    }

    void count(const model::Reading& row, Asset asset) {
        if (!is_used(row, asset)) {
            ++m_unused[asset];
        }
    }

    template <class T>
    void name(Finding& finding, const T& placed) const {
        finding.asset_id = m_in.layers.id_text(placed.id);
        finding.place = placed.has_place ? std::optional(placed.place) : std::nullopt;
    }

    static std::string kind_of(AssetLayer layer) {
        return layer == AssetLayer::supplies ? "supply "
               : layer == AssetLayer::joints ? "joint "
               : layer == AssetLayer::cables ? "cable "
                                             : "main ";
    }

    void report(Asset asset, std::int64_t count) {
        Finding f = base::finding_of(Rule::reading_not_used);
        f.layer = asset.layer;
        f.count = count;
        std::string why = "Readings are held against figures at columns, and at supplies that are "
                          "sources.";
        if (asset.layer == AssetLayer::supplies) {
            const model::Supply& supply = m_in.layers.supplies[asset.index];
            name(f, supply);
            f.supply_id = f.asset_id;
            why = supply.kind == model::SupplyKind::section_pillar
                      ? "A section pillar is no source; readings are used at columns and sources."
                      : "On TT a loop at the supply holds its electrode as well; of ra_ohm and "
                        "pscc_ka the worse of record and reading is used.";
        } else if (asset.layer == AssetLayer::joints) {
            name(f, m_in.layers.joints[asset.index]);
        } else if (asset.layer == AssetLayer::cables) {
            f.asset_id = m_in.layers.id_text(m_in.layers.cables[asset.index].id);
        } else {
            f.asset_id = m_in.layers.id_text(m_in.layers.mains[asset.index].id);
        }
        const std::string what = kind_of(asset.layer) + f.asset_id;
        f.message = (count == 1 ? "A reading" : std::to_string(count) + " readings") + " at " +
                    what + (count == 1 ? " is" : " are") + " held against nothing. " + why;
        f.fix = "Record the reading at the next column.";
        m_findings.add(std::move(f));
    }

    std::map<std::pair<AssetLayer, base::TextId>, std::uint32_t> m_assets;
    std::map<Asset, std::int64_t> m_unused;
};

} // namespace

void report_readings(const CheckContext& context) {
    ReadingReporter(context).run();
    UnusedReadings(context).run();
}

} // namespace loopwalk::checks
