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

struct CheckOptions {
    std::string job;    ///< a job file (*.toml) or a dataset with native names
    std::string output; ///< empty: the job's, else <stem>_checked.gpkg in the current folder
    std::string json; ///< where the summary for machines goes; "-": standard output; empty: nowhere
    gis::Overwrite overwrite = gis::Overwrite::no;
    std::optional<FailOn> fail_on;
    config::PartSettings part{};
};

/// Reads, snaps, traces, assesses and writes. Throws a base::Error if it cannot.
[[nodiscard]] base::ExitCode check(const CheckOptions& options, Terminal& terminal);

/// What makes a comparison end with status 1.
enum class FailOnChange : std::uint8_t { worse, any };

struct CompareOptions {
    std::string before, after; ///< results of check
    std::string output;        ///< a .gpkg for the changes; empty: none
    std::string json;          ///< as for check
    compare::Tolerances tolerances;
    gis::Overwrite overwrite = gis::Overwrite::no;
    std::optional<FailOnChange> fail_on;
};

/// Tells how two results differ. Throws a base::Error if it cannot.
[[nodiscard]] base::ExitCode compare(const CompareOptions& options, Terminal& terminal);

enum class PageFormat : std::uint8_t { text, markdown };

struct ExplainOptions {
    std::string job;   ///< as for check
    std::string asset; ///< an id, or "layer:id"
    PageFormat format = PageFormat::text;
    config::PartSettings part{};
};

/// Prints the working of one asset; writes nothing. Throws a base::Error if it cannot.
[[nodiscard]] base::ExitCode explain(const ExplainOptions& options, Terminal& terminal);

struct DarkOptions {
    std::string job;                   ///< as for check
    std::vector<std::string> out, lit; ///< columns: an id, or "columns:id"
    outage::FollowsSwitching switching = outage::FollowsSwitching::not_told;
    std::string json; ///< as for check
    gis::Overwrite overwrite = gis::Overwrite::no;
    config::PartSettings part{};
};

/// Tells where to look first when columns are out. Throws a base::Error if it cannot.
[[nodiscard]] base::ExitCode dark(const DarkOptions& options, Terminal& terminal);

struct DraftOptions {
    std::vector<std::string> datasets;
    std::string output; ///< a job file (*.toml); empty: standard output
    gis::Overwrite overwrite = gis::Overwrite::no;
};

/// Writes a job file from the look of the datasets. Throws a base::Error if it cannot.
[[nodiscard]] base::ExitCode draft(const DraftOptions& options, Terminal& terminal);

} // namespace loopwalk::app
