#include "loopwalk/app/run.hpp"

#include "loopwalk/input/read_layers.hpp"
#include "loopwalk/output/summary.hpp"
#include "loopwalk/output/write.hpp"

#include <algorithm>
#include <filesystem>

namespace loopwalk::app {
namespace {

config::Job load_job(const std::string& name) {
    const bool is_job_file = std::filesystem::path(name).extension() == ".toml";
    config::Job job = is_job_file ? config::read_job_file(name) : config::job_for_dataset(name);
    try {
        config::check(job);
    } catch (const base::ConfigError& e) {
        throw base::ConfigError(name + ": " + e.what());
    }
    return job;
}

catalogue::Catalogue load_catalogue(const config::CatalogueSettings& settings) {
    catalogue::CatalogueText text = catalogue::built_in_text();
    const auto replace = [](const std::string& path, std::string& contents, std::string& name) {
        if (!path.empty()) {
            contents = catalogue::read_catalogue_file(path);
            name = path;
        }
    };
    replace(settings.cables, text.cables, text.cables_name);
    replace(settings.devices, text.devices, text.devices_name);
    replace(settings.curves, text.curves, text.curves_name);
    return catalogue::parse_catalogue(text);
}

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
    const config::Job job = load_job(options.job);
    const catalogue::Catalogue catalogue = load_catalogue(job.catalogue);
    const assess::Assumptions assumptions = assess::resolve_assumptions(job, catalogue);
    input::Source source(job.data);
    const std::string path = output_path(options, job);
    gis::OutputDataset out(path, options.overwrite, source.files());

    base::FindingList findings;
    const input::ReadResult read = input::read_layers(source, job, catalogue, findings, terminal);
    const network::Network network = network::build_network(
        read.layers,
        network::snap(read.layers, {job.network.snap, job.network.reach}, findings, terminal),
        findings);
    const trace::Trace trace = trace::trace(read.layers, network, terminal);
    trace::report_feeding(read.layers, network, trace, findings);
    const assess::Inputs inputs{read.layers, catalogue, job, assumptions, network, trace};
    const assess::Figures figures = assess::compute_figures(inputs, terminal);
    assess::Judge judge(inputs, figures);
    const assess::Review review = assess::review(
        {read.layers, catalogue, job.rules, network, trace, figures}, judge, findings, terminal);
    findings.sort();

    const output::Results results{job,   catalogue, read,   assumptions, network,
                                  trace, figures,   review, findings};
    output::write_layers(results, source, judge, out, terminal);
    terminal.stage("finish output", 0);
    out.finish();
    terminal.finish();
    terminal.result(output::summary_text(results));
    terminal.result("\nResult: " + path + "\n");
    return options.fail_on.has_value() && is_met(*options.fail_on, results)
               ? base::ExitCode::fail_on_met
               : base::ExitCode::done;
}

} // namespace loopwalk::app
