// Labels of circuits as two layers have them. For this folder only.
#pragma once

#include "guess_parts.hpp"

namespace loopwalk::draft {

/// Looks at the labels of all layers beside each other: ways without names, or without labels, are
/// known by the one of them that they have; a label is sure where another layer has the same.
void settle_labels(std::vector<LayerGuess>& guesses, const std::vector<LayerProfile>& profiles);

} // namespace loopwalk::draft
