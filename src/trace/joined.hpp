// Where the territories of several sources meet.
#pragma once

#include "loopwalk/trace/trace.hpp"

#include <cstdint>
#include <functional>
#include <vector>

namespace loopwalk::trace {

/// Sections of a component whose two ends are nearest, along the cables, to infeeds of different
/// groups; ascending. `group_of` numbers the infeeds; distances in metres, ties to the smaller
/// group.
[[nodiscard]] std::vector<base::SectionId>
meeting_sections(const model::Layers& layers, const network::Network& network, const Trace& trace,
                 const Component& component,
                 const std::function<std::uint32_t(InfeedId)>& group_of);

} // namespace loopwalk::trace
