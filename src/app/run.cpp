#include "loopwalk/app/run.hpp"

#include "loopwalk/app/assessment.hpp"
#include "loopwalk/app/text_file.hpp"
#include "loopwalk/output/summary.hpp"
#include "loopwalk/output/write.hpp"
#include "loopwalk/report/explain.hpp"

#include <algorithm>
#include <filesystem>

namespace loopwalk::app {
namespace {

std::string output_path(const CheckOptions& options, const config::Job& job) {
    if (!options.output.empty()) {
        return options.output;
    }
    if (!job.output.path.empty()) {
        return job.output.path;
    }
    return std::filesystem::path(options.job).stem().string() + "_checked.gpkg";
}

bool is_met(FailOn level, const output::Results& results) {
    if (level == FailOn::undecided &&
        results.review.totals.by_verdict[static_cast<std::size_t>(assess::Verdict::undecided)] >
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
    Assessment assessment(options.job);
    const std::string path = output_path(options, assessment.job());
    gis::OutputDataset out(path, options.overwrite, assessment.source().files());
    const bool has_json_file = !options.json.empty() && options.json != "-";
    if (has_json_file) {
        std::vector<std::string> others = assessment.source().files();
        others.push_back(path);
        check_text_target(options.json, options.overwrite, others);
    }
    assessment.run(terminal);

    const output::Results& results = assessment.results();
    output::write_layers(results, assessment.source(), assessment.judge(), out, terminal);
    terminal.stage("finish output", 0);
    out.finish();
    terminal.finish();
    if (options.json == "-") {
        Terminal::answer(output::summary_json(results, path));
    } else {
        terminal.result(output::summary_text(results));
        terminal.result("\nResult: " + path + "\n");
    }
    if (has_json_file) {
        write_text_file(options.json, output::summary_json(results, path));
    }
    return options.fail_on.has_value() && is_met(*options.fail_on, results)
               ? base::ExitCode::fail_on_met
               : base::ExitCode::done;
}

base::ExitCode explain(const ExplainOptions& options, Terminal& terminal) {
    Assessment assessment(options.job);
    assessment.run(terminal);
    terminal.finish();
    const output::Results& results = assessment.results();
    const report::Asset asset = report::find_asset(results.layers(), options.asset);
    const report::Page page = report::explain(results, assessment.judge(), asset);
    terminal.result(options.format == PageFormat::markdown ? report::as_markdown(page)
                                                           : report::as_text(page));
    return base::ExitCode::done;
}

} // namespace loopwalk::app
