#include "loopwalk/compare/compare.hpp"

#include "loopwalk/app/json_answer.hpp"
#include "loopwalk/app/run.hpp"
#include "loopwalk/gis/memory.hpp"

#include <algorithm>

namespace loopwalk::app {
namespace {

bool is_met(FailOnChange level, const compare::Comparison& comparison) {
    return std::ranges::any_of(comparison.changes, [level](const compare::Change& change) {
        return level == FailOnChange::any || change.is_worse;
    });
}

std::vector<std::string> files_of(const gis::Dataset& before, const gis::Dataset& after) {
    std::vector<std::string> files = before.files();
    for (std::string& file : after.files()) {
        files.push_back(std::move(file));
    }
    return files;
}

} // namespace

base::ExitCode compare(const CompareOptions& options, Terminal& terminal) {
    gis::Dataset before(options.before);
    gis::Dataset after(options.after);
    const std::vector<std::string> inputs = files_of(before, after);
    std::optional<gis::OutputDataset> out;
    if (!options.output.empty()) {
        out.emplace(options.output, options.overwrite, inputs);
    }
    JsonAnswer answer(options.json, options.overwrite, inputs, {options.output});
    const compare::Comparison comparison =
        compare::compare(before, after, options.tolerances, terminal);
    const auto json = [&] {
        return compare::comparison_json(comparison, before.name(), after.name());
    };
    answer.write(json); // whatever may fail, before anything gets its name
    if (out.has_value()) {
        terminal.stage("write changes", 0);
        compare::write_changes(comparison, *out);
        out->finish();
    }
    answer.publish();
    gis::check_memory();
    terminal.finish();
    if (!answer.print(json)) {
        terminal.result(compare::comparison_text(comparison, before.name(), after.name()));
    }
    return options.fail_on.has_value() && is_met(*options.fail_on, comparison)
               ? base::ExitCode::fail_on_met
               : base::ExitCode::done;
}

} // namespace loopwalk::app
