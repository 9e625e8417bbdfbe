#include "loopwalk/compare/compare.hpp"

#include "loopwalk/app/run.hpp"
#include "loopwalk/app/text_file.hpp"
#include "loopwalk/base/text.hpp"

#include <algorithm>

namespace loopwalk::app {
namespace {

bool is_met(FailOnChange level, const compare::Comparison& comparison) {
    return std::ranges::any_of(comparison.changes, [level](const compare::Change& change) {
        return level == FailOnChange::any || change.is_worse;
    });
}

std::vector<std::string> files_of(const CompareOptions& options) {
    std::vector<std::string> files = gis::Dataset(options.before).files();
    for (const std::string& file : gis::Dataset(options.after).files()) {
        files.push_back(file);
    }
    return files;
}

} // namespace

base::ExitCode compare(const CompareOptions& options, Terminal& terminal) {
    std::vector<std::string> taken = files_of(options);
    std::optional<gis::OutputDataset> out;
    if (!options.output.empty()) {
        out.emplace(options.output, options.overwrite, taken);
        taken.push_back(options.output);
    }
    const bool has_json_file = !options.json.empty() && options.json != "-";
    if (has_json_file) {
        check_text_target(options.json, options.overwrite, taken);
    }
    const compare::Comparison comparison =
        compare::compare(options.before, options.after, options.moved_m, terminal);
    if (out.has_value()) {
        terminal.stage("write changes", 0);
        compare::write_changes(comparison, *out);
        out->finish();
    }
    terminal.finish();
    const std::string before = base::without_passwords(options.before);
    const std::string after = base::without_passwords(options.after);
    const auto json = [&] { return compare::comparison_json(comparison, before, after); };
    if (options.json == "-") {
        Terminal::answer(json());
    } else {
        terminal.result(compare::comparison_text(comparison, before, after));
    }
    if (has_json_file) {
        write_text_file(options.json, json());
    }
    return options.fail_on.has_value() && is_met(*options.fail_on, comparison)
               ? base::ExitCode::fail_on_met
               : base::ExitCode::done;
}

} // namespace loopwalk::app
