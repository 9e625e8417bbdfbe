// What becomes of the finished GeoPackage: it gets its name, or is turned into another format that
// appears whole or not at all. docs/output_writing.md.
#pragma once

#include "loopwalk/gis/output.hpp"

#include "finish_output.hpp"
#include <memory>
#include <string>
#include <vector>

namespace loopwalk::gis {

class OutputTarget {
  public:
    OutputTarget() = default;
    OutputTarget(const OutputTarget&) = delete;
    OutputTarget& operator=(const OutputTarget&) = delete;
    virtual ~OutputTarget() = default; ///< removes what was not published

    /// Where the GeoPackage is written.
    [[nodiscard]] virtual const std::string& staging() const noexcept = 0;
    /// Brings the closed and verified GeoPackage to its place; tells what the format could not
    /// hold, each kind once. Throws OutputError; then the target is as it was.
    [[nodiscard]] virtual std::vector<std::string> publish(const OutputLayers& layers) = 0;
};

/// Chosen by the ending of the path, or "PG:". Throws OutputError: see OutputDataset.
[[nodiscard]] std::unique_ptr<OutputTarget> make_target(const std::string& path,
                                                        const std::string& schema,
                                                        Overwrite overwrite,
                                                        const std::vector<std::string>& inputs);

/// `schema` of the database behind the connection. A GeoPackage in the system's folder for
/// temporary files serves as staging.
[[nodiscard]] std::unique_ptr<OutputTarget>
make_database_target(const std::string& connection, const std::string& schema, Overwrite overwrite,
                     const std::vector<std::string>& inputs);

} // namespace loopwalk::gis
