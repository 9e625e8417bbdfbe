#include "loopwalk/draft/draft.hpp"

#include "loopwalk/app/run.hpp"
#include "loopwalk/app/text_file.hpp"

#include <filesystem>

namespace loopwalk::app {
namespace {

namespace fs = std::filesystem;

/// Before any work: what would make writing fail.
void check_target(const DraftOptions& options) {
    if (fs::path(options.output).extension() != ".toml") {
        throw base::ConfigError(options.output +
                                ": a job file ends in .toml, or `check` takes it for a dataset");
    }
    check_text_target(options.output, options.overwrite, draft::files_of(options.datasets));
}

} // namespace

base::ExitCode draft(const DraftOptions& options, Terminal& terminal) {
    if (!options.output.empty()) {
        check_target(options);
    }
    const catalogue::Catalogue catalogue = catalogue::parse_catalogue(catalogue::built_in_text());
    const draft::Draft draft = draft::guess(draft::survey(options.datasets, terminal), catalogue);
    terminal.finish();
    const std::string text =
        draft::job_text(draft, fs::path(options.output).parent_path().string());
    if (options.output.empty()) {
        Terminal(Quiet::no, Timings::no).result(text); // it is all that was asked for
        return base::ExitCode::done;
    }
    write_text_file(options.output, text);
    terminal.result(draft::summary_text(draft) + "Job file: " + options.output + "\n");
    return base::ExitCode::done;
}

} // namespace loopwalk::app
