#include "loopwalk/app/cli.hpp"

#include "loopwalk/app/run.hpp"
#include "loopwalk/app/signals.hpp"
#include "loopwalk/base/text.hpp"
#include "loopwalk/output/results.hpp"

#include <CLI/CLI.hpp>

#include <exception>
#include <iostream>
#include <map>
#include <sstream>

namespace loopwalk::app {
namespace {

using base::ExitCode;

constexpr const char* kExitStatus =
    "Exit status: 0 done, whatever was found; 1 done and --fail-on was met; 2 command line or job\n"
    "file; 3 a dataset cannot be used; 4 the output cannot be written, also when it exists "
    "without\n"
    "--overwrite or is an input; 70 internal; 130 interrupted.";

struct Options {
    CheckOptions check;
    bool overwrite = false;
    bool quiet = false;
    bool timings = false;
    std::string fail_on;
    ExplainOptions explain;
    std::string format;
    CompareOptions compare;
    std::string fail_on_change;
    DraftOptions draft;
    DarkOptions dark;
    bool follows_switching = false;
    SheetOptions sheet;
};

constexpr const char* kJobText =
    "Job file (ends in .toml), or a dataset with the native layer names";

std::string version_text() {
    std::string text = "loopwalk " + std::string(base::program_version());
    for (const std::string& library : gis::library_versions()) {
        text += "\n" + library;
    }
    return text;
}

std::string footer_text() {
    std::string text = std::string(kExitStatus) + "\n\nCautions:";
    for (const std::string& caution : output::cautions()) {
        text += "\n  " + caution;
    }
    return text;
}

const std::map<std::string, FailOn>& fail_levels() {
    static const std::map<std::string, FailOn> levels = {{"danger", FailOn::danger},
                                                         {"fail", FailOn::fail},
                                                         {"warning", FailOn::warning},
                                                         {"undecided", FailOn::undecided}};
    return levels;
}

void add_part(CLI::App& command, config::PartSettings& part) {
    command
        .add_option("--bbox", part.bbox,
                    "Read only what touches this box: xmin,ymin,xmax,ymax (x is easting or "
                    "longitude)")
        ->delimiter(',')
        ->expected(4);
    command.add_option("--bbox-crs", part.bbox_crs,
                       "Coordinate system of the box; default: the cables'");
    command.add_option("--area", part.area,
                       "Read only what lies around the columns whose area is this");
}

void add_check(CLI::App& app, Options& options) {
    CLI::App* check = app.add_subcommand(
        "check", "Trace a council's street-lighting layers and write them back annotated.");
    check->footer(footer_text());
    check->set_version_flag("--version", version_text);
    check->add_option("JOB", options.check.job, kJobText)->required();
    check->add_option(
        "-o,--output", options.check.output,
        "Result: a .gpkg file, a folder of another format (.shp, .geojson, .fgb, .tab, "
        ".csv, .gdb) or a PG: connection; default: the job's, else "
        "<stem>_checked.gpkg in the current folder");
    add_part(*check, options.check.part);
    check->add_flag("--overwrite", options.overwrite,
                    "Replace the result if it exists, and the file of --json");
    check->add_option("--json", options.check.json,
                      "Where the summary for machines goes, as JSON; - for standard output, in "
                      "place of the text");
    check->add_flag("--quiet", options.quiet, "No summary and no progress");
    check
        ->add_option("--fail-on", options.fail_on,
                     "End with status 1 on a finding this severe, or on an undecided column: "
                     "danger, fail, warning, undecided (each includes those before it)")
        ->check(CLI::IsMember(fail_levels()));
    check->add_flag("--timings", options.timings,
                    "Seconds for each stage, on standard error as 'timing <stage> <seconds>'");
}

const std::map<std::string, PageFormat>& page_formats() {
    static const std::map<std::string, PageFormat> formats = {{"text", PageFormat::text},
                                                              {"markdown", PageFormat::markdown}};
    return formats;
}

void add_explain(CLI::App& app, Options& options) {
    CLI::App* explain = app.add_subcommand(
        "explain", "Write down the whole working of one asset's figures; nothing is changed.");
    explain->footer(footer_text());
    explain->set_version_flag("--version", version_text);
    explain->add_option("JOB", options.explain.job, kJobText)->required();
    explain
        ->add_option("ID", options.explain.asset,
                     "Id of a column, cable, supply or joint; layer:ID (columns:12) where several "
                     "layers have it")
        ->required();
    add_part(*explain, options.explain.part);
    explain
        ->add_option("--format", options.format,
                     "How to write the page: text (default) or markdown")
        ->check(CLI::IsMember(page_formats()));
}

const std::map<std::string, FailOnChange>& change_levels() {
    static const std::map<std::string, FailOnChange> levels = {{"worse", FailOnChange::worse},
                                                               {"any", FailOnChange::any}};
    return levels;
}

void add_compare(CLI::App& app, Options& options) {
    CLI::App* compare =
        app.add_subcommand("compare", "Tell how two results of check differ: added, lost, re-fed, "
                                      "judged anew, moved; findings and "
                                      "margins.");
    compare->footer(footer_text());
    compare->set_version_flag("--version", version_text);
    compare->add_option("OLD", options.compare.before, "The earlier result")->required();
    compare->add_option("NEW", options.compare.after, "The later result")->required();
    compare->add_option("-o,--output", options.compare.output,
                        "A .gpkg file for the changes, as a layer of points");
    compare->add_option(
        "--json", options.compare.json,
        "Where the changes go as JSON; - for standard output, in place of the text");
    compare
        ->add_option("--moved-m", options.compare.tolerances.moved_m,
                     "What moved by no more than so many metres has not moved (default 0.1)")
        ->check(CLI::NonNegativeNumber);
    compare
        ->add_option("--margin-pct", options.compare.tolerances.margin_pct,
                     "Margins that differ by no more than so many percent are the same (default 5)")
        ->check(CLI::NonNegativeNumber);
    compare->add_flag("--overwrite", options.overwrite, "Replace the files of -o and --json");
    compare->add_flag("--quiet", options.quiet, "No text and no progress");
    compare
        ->add_option("--fail-on", options.fail_on_change,
                     "End with status 1 if something is worse, or if any thing differs: worse, any")
        ->check(CLI::IsMember(change_levels()));
}

void add_dark(CLI::App& app, Options& options) {
    CLI::App* dark = app.add_subcommand(
        "dark", "Tell where to look first when these columns are out; nothing is changed.");
    dark->footer("Example, five out beyond one that burns:\n"
                 "  loopwalk dark town.toml A4 A5 A6 A7 A8 --lit A3\n\n" +
                 footer_text());
    dark->set_version_flag("--version", version_text);
    dark->add_option("JOB", options.dark.job, kJobText)->required();
    dark->add_option("ID")
        ->description("Columns that are out")
        ->type_name("TEXT")
        ->expected(1, CLI::detail::expected_max_vector_size)
        ->allow_extra_args()
        ->required();
    dark->add_option("--lit")
        ->description("Columns that are lit, or have supply at their cut-out")
        ->type_name("TEXT")
        ->expected(1, CLI::detail::expected_max_vector_size)
        ->allow_extra_args();
    dark->add_flag("--switching", options.follows_switching,
                   "It comes or goes with the switching: all of a group at dusk, or lamps that "
                   "burn by day");
    add_part(*dark, options.dark.part);
    dark->add_option("--json", options.dark.json,
                     "Where everything goes as JSON; - for standard output, in place of the text");
    dark->add_flag("--overwrite", options.overwrite, "Replace the file of --json");
    dark->add_flag("--quiet", options.quiet, "No text and no progress");
}

void add_sheet(CLI::App& app, Options& options) {
    CLI::App* sheet = app.add_subcommand(
        "sheet", "Print a page to take along for each asset; nothing is changed.");
    sheet->footer("Examples:\n"
                  "  loopwalk sheet town.toml AN1-04 P-AN P-AN/1\n"
                  "  loopwalk sheet town.toml --way P-AN/1\n"
                  "  loopwalk sheet town.toml --round North\n\n" +
                  footer_text());
    sheet->set_version_flag("--version", version_text);
    sheet->add_option("JOB", options.sheet.job, kJobText)->required();
    sheet->add_option("ID")
        ->description("Columns, supplies, joints or ways (supply/way); layer:ID where several "
                      "layers have it")
        ->type_name("TEXT")
        ->expected(1, CLI::detail::expected_max_vector_size)
        ->allow_extra_args();
    sheet->add_option("--way")
        ->description("A page for every column of this way")
        ->type_name("TEXT")
        ->expected(1, CLI::detail::expected_max_vector_size)
        ->allow_extra_args();
    sheet->add_option("--round", options.sheet.round,
                      "A page for every column of this area: by supply and way, along the cable");
    add_part(*sheet, options.sheet.part);
    sheet->add_option("--json", options.sheet.json,
                      "Where everything goes as JSON; - for standard output, in place of the text");
    sheet->add_flag("--overwrite", options.overwrite, "Replace the file of --json");
    sheet->add_flag("--quiet", options.quiet, "No text and no progress");
}

void add_draft(CLI::App& app, Options& options) {
    CLI::App* draft = app.add_subcommand(
        "draft", "Write a commented job file from the look of layers, fields and values.");
    draft->footer(footer_text());
    draft->set_version_flag("--version", version_text);
    draft->add_option("DATASET")
        ->description("Datasets that hold the records")
        ->type_name("TEXT ...")
        ->expected(1, CLI::detail::expected_max_vector_size)
        ->allow_extra_args()
        ->required();
    draft->add_option("-o,--output", options.draft.output,
                      "The job file, ending in .toml; default: standard output");
    draft->add_flag("--overwrite", options.overwrite, "Replace the job file if it exists");
    draft->add_flag("--quiet", options.quiet, "No progress");
}

/// Runs what the parsed command line asks for.
ExitCode dispatch(const CLI::App& app, Options& options) {
    Terminal terminal(options.quiet ? Quiet::yes : Quiet::no,
                      options.timings ? Timings::yes : Timings::no);
    options.check.overwrite = options.overwrite ? gis::Overwrite::yes : gis::Overwrite::no;
    if (!options.fail_on.empty()) {
        options.check.fail_on = fail_levels().at(options.fail_on);
    }
    if (!options.format.empty()) {
        options.explain.format = page_formats().at(options.format);
    }
    if (!options.fail_on_change.empty()) {
        options.compare.fail_on = change_levels().at(options.fail_on_change);
    }
    options.compare.overwrite = options.check.overwrite;
    if (app.got_subcommand("explain")) {
        return explain(options.explain, terminal);
    }
    options.draft.overwrite = options.check.overwrite;
    if (app.got_subcommand("draft")) {
        options.draft.datasets = app.get_subcommand("draft")->get_option("DATASET")->results();
        return draft(options.draft, terminal);
    }
    options.dark.overwrite = options.check.overwrite;
    options.dark.switching = options.follows_switching ? outage::FollowsSwitching::yes
                                                       : outage::FollowsSwitching::not_told;
    if (app.got_subcommand("dark")) {
        options.dark.out = app.get_subcommand("dark")->get_option("ID")->results();
        options.dark.lit = app.get_subcommand("dark")->get_option("--lit")->results();
        return dark(options.dark, terminal);
    }
    options.sheet.overwrite = options.check.overwrite;
    if (app.got_subcommand("sheet")) {
        options.sheet.assets = app.get_subcommand("sheet")->get_option("ID")->results();
        options.sheet.ways = app.get_subcommand("sheet")->get_option("--way")->results();
        return sheet(options.sheet, terminal);
    }
    return app.got_subcommand("compare") ? compare(options.compare, terminal)
                                         : check(options.check, terminal);
}

/// The first word of the command line where it should name a command but does not; else empty.
std::string unknown_command(const CLI::App& app, int argc, const char* const* argv) {
    const std::string first = argc > 1 ? argv[1] : "";
    const bool is_word = !first.empty() && first.front() != '-';
    const auto named = app.get_subcommands(
        [&first](const CLI::App* command) { return command->get_name() == first; });
    return is_word && named.empty() ? first : std::string{};
}

ExitCode parse_and_run(int argc, const char* const* argv) {
    CLI::App app{"Traces street-lighting cables from every supply and tells, for each column, what "
                 "feeds it, over how many ohms, and whether its fuses open in time.",
                 "loopwalk"};
    app.set_version_flag("--version", version_text);
    app.footer(footer_text());
    app.require_subcommand(1);
    Options options;
    add_check(app, options);
    add_explain(app, options);
    add_compare(app, options);
    add_draft(app, options);
    add_dark(app, options);
    add_sheet(app, options);
    if (const std::string word = unknown_command(app, argc, argv); !word.empty()) {
        Terminal::message("there is no command '" + word +
                          "' in this version; there are: check, draft, explain, sheet, dark, "
                          "compare");
        return ExitCode::usage;
    }
    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& e) {
        const bool asked_for = e.get_exit_code() == static_cast<int>(CLI::ExitCodes::Success);
        std::ostringstream answer;
        std::ostringstream complaint;
        app.exit(e, answer, complaint);
        Terminal::answer(answer.str());
        std::cerr << base::printable(base::without_passwords(complaint.str()));
        return asked_for ? ExitCode::done : ExitCode::usage;
    }
    return dispatch(app, options);
}

/// Like main_program(), without the watch.
int run_watched(int argc, const char* const* argv) {
    try {
        return static_cast<int>(parse_and_run(argc, argv));
    } catch (const base::Interrupted&) {
        Terminal::message(interrupted_text());
        return static_cast<int>(ExitCode::interrupted);
    } catch (const base::Error& e) {
        Terminal::message(e.what());
        return static_cast<int>(e.code());
    } catch (const std::bad_alloc&) {
        Terminal::message("not enough memory; " + written_text());
    } catch (const std::exception& e) {
        Terminal::message(std::string("internal error: ") + e.what());
    }
    return static_cast<int>(ExitCode::internal);
}

} // namespace

int main_program(int argc, const char* const* argv) noexcept {
    try {
        const SignalWatch watch;
        return run_watched(argc, argv);
    } catch (const std::exception& e) { // no thread for the watch
        Terminal::message(std::string("cannot begin: ") + e.what());
    }
    return static_cast<int>(ExitCode::internal);
}

} // namespace loopwalk::app
