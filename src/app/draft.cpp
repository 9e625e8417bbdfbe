#include "loopwalk/draft/draft.hpp"

#include "loopwalk/app/run.hpp"
#include "loopwalk/gis/memory.hpp"

#include <filesystem>
#include <optional>

namespace loopwalk::app {
namespace {

namespace fs = std::filesystem;

/// Before any work: what would make writing fail.
gis::TextFile target_of(const DraftOptions& options) {
    if (fs::path(options.output).extension() != ".toml") {
        throw base::ConfigError(options.output +
                                ": a job file ends in .toml, or `check` takes it for a dataset");
    }
    return {options.output, gis::TextKind::job, options.overwrite,
            draft::files_of(options.datasets)};
}

} // namespace

base::ExitCode draft(const DraftOptions& options, Terminal& terminal) {
    std::optional<gis::TextFile> file;
    if (!options.output.empty()) {
        file.emplace(target_of(options));
    }
    const catalogue::Catalogue catalogue = catalogue::parse_catalogue(catalogue::built_in_text());
    const draft::Draft draft = draft::guess(draft::survey(options.datasets, terminal), catalogue);
    gis::check_memory();
    terminal.finish();
    const std::string text =
        draft::job_text(draft, fs::path(options.output).parent_path().string());
    if (!file.has_value()) {
        Terminal(Quiet::no, Timings::no).result(text); // it is all that was asked for
        return base::ExitCode::done;
    }
    file->write(text);
    file->publish();
    terminal.result(draft::summary_text(draft) + "Job file: " + options.output + "\n");
    return base::ExitCode::done;
}

} // namespace loopwalk::app
