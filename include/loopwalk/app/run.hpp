// What the commands do.
#pragma once

#include "loopwalk/app/terminal.hpp"
#include "loopwalk/base/error.hpp"
#include "loopwalk/compare/compare.hpp"
#include "loopwalk/config/config.hpp"
#include "loopwalk/gis/output.hpp"
#include "loopwalk/outage/outage.hpp"

#include <optional>
#include <string>
#include <vector>

namespace loopwalk::app {

/// What makes a finished run end with status 1; each includes those before it.
enum class FailOn : std::uint8_t { danger, fail, warning, undecided };

/// The command `check`.
struct CheckOptions {
    std::string job;    ///< a job file (*.toml) or a dataset with native names
    std::string output; ///< empty: the job's, else <stem>_checked.gpkg in the current folder
    std::string json; ///< where the summary for machines goes; "-": standard output; empty: nowhere
    gis::Overwrite overwrite = gis::Overwrite::no; ///< whether an earlier result may be replaced
    std::optional<FailOn> fail_on;                 ///< none: whatever was found, the status is 0
    config::PartSettings part{}; ///< what to read of the records; goes before the job's own
};

/// Reads, snaps, traces, assesses and writes. Throws a base::Error if it cannot.
[[nodiscard]] base::ExitCode check(const CheckOptions& options, Terminal& terminal);

/// What makes a comparison end with status 1.
enum class FailOnChange : std::uint8_t { worse, any };

/// The command `compare`.
struct CompareOptions {
    std::string before, after;                     ///< results of check
    std::string output;                            ///< a .gpkg for the changes; empty: none
    std::string json;                              ///< as for check
    compare::Tolerances tolerances;                ///< what counts as a difference
    gis::Overwrite overwrite = gis::Overwrite::no; ///< whether an earlier result may be replaced
    std::optional<FailOnChange> fail_on;           ///< none: whatever differs, the status is 0
};

/// Tells how two results differ. Throws a base::Error if it cannot.
[[nodiscard]] base::ExitCode compare(const CompareOptions& options, Terminal& terminal);

/// How a page for people is written.
enum class PageFormat : std::uint8_t { text, markdown };

/// The command `explain`.
struct ExplainOptions {
    std::string job;                      ///< as for check
    std::string asset;                    ///< an id, or "layer:id"
    PageFormat format = PageFormat::text; ///< of the page
    config::PartSettings part{}; ///< what to read of the records; goes before the job's own
};

/// Prints the working of one asset; writes nothing. Throws a base::Error if it cannot.
[[nodiscard]] base::ExitCode explain(const ExplainOptions& options, Terminal& terminal);

/// The command `dark`.
struct DarkOptions {
    std::string job;                   ///< as for check
    std::vector<std::string> out, lit; ///< columns: an id, or "columns:id"
    outage::FollowsSwitching switching = outage::FollowsSwitching::not_told; ///< as seen
    std::string json;                                                        ///< as for check
    gis::Overwrite overwrite = gis::Overwrite::no; ///< whether an earlier result may be replaced
    config::PartSettings part{}; ///< what to read of the records; goes before the job's own
};

/// Tells where to look first when columns are out. Throws a base::Error if it cannot.
[[nodiscard]] base::ExitCode dark(const DarkOptions& options, Terminal& terminal);

/// The command `sheet`.
struct SheetOptions {
    std::string job;                 ///< as for check
    std::vector<std::string> assets; ///< columns, supplies, joints, ways: as for explain
    std::vector<std::string> ways;   ///< every column of these: "supply/way"
    std::string round;               ///< every column of this area; empty: none asked for
    std::string json;                ///< as for check
    gis::Overwrite overwrite = gis::Overwrite::no; ///< whether an earlier result may be replaced
    config::PartSettings part{}; ///< what to read of the records; goes before the job's own
};

/// Prints pages for the person at the door. Throws a base::Error if it cannot.
[[nodiscard]] base::ExitCode sheet(const SheetOptions& options, Terminal& terminal);

/// The command `draft`.
struct DraftOptions {
    std::vector<std::string> datasets; ///< files, folders or connection strings, at least one
    std::string output;                ///< a job file (*.toml); empty: standard output
    gis::Overwrite overwrite = gis::Overwrite::no; ///< whether an earlier draft may be replaced
};

/// Writes a job file from the look of the datasets. Throws a base::Error if it cannot.
[[nodiscard]] base::ExitCode draft(const DraftOptions& options, Terminal& terminal);

} // namespace loopwalk::app
