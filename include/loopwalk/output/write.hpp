// Results become layers: every input layer with its new fields, and the computed ones.
// Docs: docs/data_model.md.
#pragma once

#include "loopwalk/base/progress.hpp"
#include "loopwalk/gis/output.hpp"
#include "loopwalk/output/results.hpp"

namespace loopwalk::output {

/// Writes all layers; the caller finishes the dataset. `judge` is asked again for each column in
/// the order of the file, so nothing but figures has to be kept in memory.
void write_layers(const Results& results, input::Source& source, protection::Judge& judge,
                  gis::OutputDataset& out, base::Progress& progress);

} // namespace loopwalk::output
