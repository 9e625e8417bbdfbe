#include "loopwalk/sheet/sheet.hpp"

#include "loopwalk/app/assessment.hpp"
#include "loopwalk/app/json_answer.hpp"
#include "loopwalk/app/run.hpp"
#include "loopwalk/gis/memory.hpp"

#include <algorithm>
#include <optional>

namespace loopwalk::app {
namespace {

void add_way(std::vector<report::Asset>& assets, const output::Results& results,
             const std::string& name) {
    const report::Asset way = report::find_asset(results.layers(), results.network, "ways:" + name);
    const auto columns = sheet::columns_of_way(results, base::WayId(way.index));
    if (columns.empty()) {
        throw base::ConfigError("no column in service hangs on way '" + name + "'.");
    }
    assets.insert(assets.end(), columns.begin(), columns.end());
}

std::vector<report::Asset> wanted(const output::Results& results, const SheetOptions& options) {
    std::vector<report::Asset> assets;
    for (const std::string& name : options.assets) {
        assets.push_back(report::find_asset(results.layers(), results.network, name));
    }
    for (const std::string& name : options.ways) {
        add_way(assets, results, name);
    }
    if (!options.round.empty()) {
        const auto columns = sheet::round_of(results, options.round);
        assets.insert(assets.end(), columns.begin(), columns.end());
    }
    return assets;
}

} // namespace

base::ExitCode sheet(const SheetOptions& options, Terminal& terminal) {
    if (options.assets.empty() && options.ways.empty() && options.round.empty()) {
        throw base::ConfigError("name at least one asset, or a way by --way, or an area by "
                                "--round.");
    }
    Assessment assessment(options.job, options.part);
    JsonAnswer answer(options.json, options.overwrite, assessment.inputs());
    assessment.run(terminal);
    assessment.source().check_unchanged();
    const output::Results& results = assessment.results();
    std::vector<sheet::Sheet> sheets;
    for (const report::Asset& asset : wanted(results, options)) {
        sheets.push_back(sheet::make_sheet(results, assessment.judge(), asset));
    }
    const auto json = [&] { return sheet::as_json(sheets); };
    answer.write(json);
    answer.publish();
    gis::check_memory();
    terminal.finish();
    if (answer.print(json)) {
        return base::ExitCode::done;
    }
    for (std::size_t s = 0; s < sheets.size(); ++s) {
        terminal.result((s > 0 ? "\f" : "") + sheet::as_text(sheets[s]));
    }
    return base::ExitCode::done;
}

} // namespace loopwalk::app
