#include "loopwalk/app/run.hpp"

#include "loopwalk/app/assessment.hpp"
#include "loopwalk/app/json_answer.hpp"
#include "loopwalk/base/text.hpp"
#include "loopwalk/gis/memory.hpp"
#include "loopwalk/output/summary.hpp"
#include "loopwalk/output/write.hpp"
#include "loopwalk/report/explain.hpp"

#include <algorithm>
#include <filesystem>

namespace loopwalk::app {
namespace {

/// "town_checked" for town.toml; a connection string has no name that could be a file's.
std::string result_name(const CheckOptions& options) {
    const std::filesystem::path path(options.job);
    std::error_code error;
    const bool is_name =
        options.job.find(':') == std::string::npos || std::filesystem::exists(path, error);
    return (is_name ? path.stem().string() : "records") + "_checked";
}

std::string output_path(const CheckOptions& options, const config::Job& job) {
    if (!options.output.empty()) {
        return options.output;
    }
    return job.output.path.empty() ? result_name(options) + ".gpkg" : job.output.path;
}

bool is_met(FailOn level, const output::Results& results) {
    if (level == FailOn::undecided &&
        results.review.totals.by_verdict[static_cast<std::size_t>(protection::Verdict::undecided)] >
            0) {
        return true;
    }
    const base::Severity least = level == FailOn::danger ? base::Severity::danger
                                 : level == FailOn::fail ? base::Severity::fail
                                                         : base::Severity::warning;
    return std::ranges::any_of(results.findings.all(),
                               [least](const base::Finding& f) { return f.severity <= least; });
}

} // namespace

base::ExitCode check(const CheckOptions& options, Terminal& terminal) {
    Assessment assessment(options.job, options.part);
    const std::string path = output_path(options, assessment.job());
    const std::string& schema = assessment.job().output.schema;
    const std::vector<std::string> inputs = assessment.inputs();
    gis::OutputDataset out(path, options.overwrite, inputs,
                           schema.empty() ? result_name(options) : schema);
    JsonAnswer answer(options.json, options.overwrite, inputs, {path});
    assessment.run(terminal);

    const output::Results& results = assessment.results();
    output::write_layers(results, assessment.source(), assessment.judge(), out, terminal);
    terminal.stage("finish output", 0);
    const auto json = [&] { return output::summary_json(results, base::without_passwords(path)); };
    answer.write(json); // whatever may fail, before anything gets its name
    out.finish();
    answer.publish();
    terminal.finish();
    for (const std::string& note : out.notes()) {
        Terminal::message("note: " + note);
    }
    if (!answer.print(json)) {
        terminal.result(output::summary_text(results));
        terminal.result("\nResult: " + path + "\n");
    }
    return options.fail_on.has_value() && is_met(*options.fail_on, results)
               ? base::ExitCode::fail_on_met
               : base::ExitCode::done;
}

base::ExitCode explain(const ExplainOptions& options, Terminal& terminal) {
    Assessment assessment(options.job, options.part);
    assessment.run(terminal);
    assessment.source().check_unchanged();
    gis::check_memory();
    terminal.finish();
    const output::Results& results = assessment.results();
    const report::Asset asset =
        report::find_asset(results.layers(), results.network, options.asset);
    const report::Page page = report::explain(results, assessment.judge(), asset);
    terminal.result(options.format == PageFormat::markdown ? report::as_markdown(page)
                                                           : report::as_text(page));
    return base::ExitCode::done;
}

} // namespace loopwalk::app
