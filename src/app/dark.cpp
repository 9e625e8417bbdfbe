#include "loopwalk/output/dark.hpp"

#include "loopwalk/app/assessment.hpp"
#include "loopwalk/app/json_answer.hpp"
#include "loopwalk/app/run.hpp"
#include "loopwalk/base/text.hpp"
#include "loopwalk/gis/memory.hpp"
#include "loopwalk/report/dark.hpp"

#include <algorithm>

namespace loopwalk::app {
namespace {

/// "A17" or "columns:A17". An id may hold a colon itself.
base::ColumnId column_named(const model::Layers& layers, const std::string& name) {
    const std::size_t colon = name.find(':');
    const auto layer =
        colon == std::string::npos ? std::nullopt : base::layer_of(name.substr(0, colon));
    if (layer.has_value() && *layer != base::AssetLayer::columns) {
        throw base::ConfigError("'" + name + "' is no column: name columns that are out or lit.");
    }
    const std::string id = layer.has_value() ? name.substr(colon + 1) : name;
    std::vector<std::string> ids;
    for (std::size_t c = 0; c < layers.columns.size(); ++c) {
        ids.push_back(layers.id_text(layers.columns[c].id));
        if (ids.back() == id) {
            return base::ColumnId(c);
        }
    }
    const std::string near = base::nearest_word(id, ids);
    throw base::ConfigError("the records have no column '" + id + "'" +
                            (near.empty() ? "." : "; the nearest id is '" + near + "'."));
}

std::vector<base::ColumnId> columns_named(const output::Results& results,
                                          const std::vector<std::string>& names) {
    std::vector<base::ColumnId> columns;
    for (const std::string& name : names) {
        const base::ColumnId id = column_named(results.layers(), name);
        if (std::ranges::find(columns, id) == columns.end()) {
            columns.push_back(id);
        }
    }
    return columns;
}

outage::Seen seen_in(const output::Results& results, const DarkOptions& options) {
    outage::Seen seen{columns_named(results, options.out), columns_named(results, options.lit),
                      options.switching};
    for (const base::ColumnId id : seen.lit) {
        if (std::ranges::find(seen.out, id) != seen.out.end()) {
            throw base::ConfigError(
                "column '" + results.layers().id_text(results.layers().columns[id.index()].id) +
                "' cannot be both out and lit.");
        }
    }
    return seen;
}

} // namespace

base::ExitCode dark(const DarkOptions& options, Terminal& terminal) {
    Assessment assessment(options.job, options.part);
    JsonAnswer answer(options.json, options.overwrite, assessment.inputs());
    assessment.run(terminal);
    assessment.source().check_unchanged();
    const output::Results& results = assessment.results();
    const outage::Seen seen = seen_in(results, options);
    const outage::Diagnosis diagnosis =
        outage::diagnose({results.layers(), results.network, results.trace, results.figures,
                          assessment.job().network.reach},
                         seen);
    const auto json = [&] { return output::dark_json(results, seen, diagnosis); };
    answer.write(json);
    answer.publish();
    gis::check_memory();
    terminal.finish();
    if (!answer.print(json)) {
        terminal.result(report::dark_text(results, seen, diagnosis));
    }
    return base::ExitCode::done;
}

} // namespace loopwalk::app
