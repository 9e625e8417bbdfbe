#include "loopwalk/draft/draft.hpp"

#include "loopwalk/app/run.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <unistd.h>

namespace loopwalk::app {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void fail(const std::string& path, const std::string& what) {
    throw base::OutputError(path + ": " + what);
}

/// Before any work: what would make writing fail.
void check_target(const DraftOptions& options) {
    const fs::path path(options.output);
    if (path.extension() != ".toml") {
        throw base::ConfigError(options.output +
                                ": a job file ends in .toml, or `check` takes it for a dataset");
    }
    std::error_code error;
    const std::vector<std::string> files = draft::files_of(options.datasets);
    if (std::any_of(files.begin(), files.end(),
                    [&](const std::string& file) { return fs::equivalent(file, path, error); })) {
        fail(options.output, "is one of the datasets; name another file");
    }
    if (fs::is_directory(path, error)) {
        fail(options.output, "is a folder; name a file in it");
    }
    if (fs::exists(path, error) && options.overwrite == gis::Overwrite::no) {
        fail(options.output, "exists; name another file, or replace it with --overwrite");
    }
}

/// Whole or not at all: written beside the target and renamed.
void write_file(const std::string& target, const std::string& text) {
    const fs::path path(target);
    const fs::path partial = path.parent_path() / ("." + path.stem().string() + ".partial-" +
                                                   std::to_string(getpid()) + ".toml");
    std::error_code error;
    errno = 0;
    {
        std::ofstream file(partial, std::ios::binary);
        file << text;
        file.close();
        if (!file) {
            const std::string why = errno != 0 ? std::strerror(errno) : "unknown reason";
            fs::remove(partial, error);
            fail(target, "cannot be written: " + why);
        }
    }
    fs::rename(partial, path, error);
    if (error) {
        const std::string why = error.message();
        fs::remove(partial, error);
        fail(target, "cannot be written: " + why);
    }
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
    write_file(options.output, text);
    terminal.result(draft::summary_text(draft) + "Job file: " + options.output + "\n");
    return base::ExitCode::done;
}

} // namespace loopwalk::app
