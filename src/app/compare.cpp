#include "loopwalk/compare/compare.hpp"

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
    std::optional<gis::TextFile> json_file;
    if (!options.json.empty() && options.json != "-") {
        json_file.emplace(options.json, gis::TextKind::json, options.overwrite, inputs,
                          std::vector<std::string>{options.output});
    }
    const compare::Comparison comparison =
        compare::compare(before, after, options.tolerances, terminal);
    const auto json = [&] {
        return compare::comparison_json(comparison, before.name(), after.name());
    };
    if (json_file.has_value()) { // whatever may fail, before anything gets its name
        json_file->write(json());
    }
    if (out.has_value()) {
        terminal.stage("write changes", 0);
        compare::write_changes(comparison, *out);
        out->finish();
    }
    if (json_file.has_value()) {
        json_file->publish();
    }
    gis::check_memory();
    terminal.finish();
    if (options.json == "-") {
        Terminal::answer(json());
    } else {
        terminal.result(compare::comparison_text(comparison, before.name(), after.name()));
    }
    return options.fail_on.has_value() && is_met(*options.fail_on, comparison)
               ? base::ExitCode::fail_on_met
               : base::ExitCode::done;
}

} // namespace loopwalk::app
