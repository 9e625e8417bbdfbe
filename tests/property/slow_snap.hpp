// Rules 1 to 4 of docs/snapping.md a second time, by comparing everything with everything on lines
// that are really cut up: slow, without an index, and sharing nothing with the program but the
// records and the elementary geometry.
#pragma once

#include "loopwalk/model/layers.hpp"

#include <vector>

namespace loopwalk::test {

/// A node: an asset by number (supplies, columns, joints), or a place.
struct SlowNode {
    int asset = -1;
    base::Point2 place;
};

struct SlowPiece {
    int cable = 0;
    int part = 0;
    int from = 0, to = 0; ///< nodes
    double from_measure = 0.0, to_measure = 0.0;
    base::Polyline line; ///< led to both nodes
    double lead = 0.0;   ///< length of what leads to `from`
};

struct SlowEnd {
    int cable = 0;
    int part = 0;
    bool is_last = false;
    base::Point2 place;
    int node = -1;
    bool conducts = true;
    bool is_ambiguous = false;
};

struct SlowResult {
    std::vector<SlowNode> nodes;
    std::vector<SlowPiece> pieces; ///< by part, then along it
    std::vector<SlowEnd> ends;     ///< two for each part
};

[[nodiscard]] SlowResult slow_snap(const model::Layers& layers, double snap);

} // namespace loopwalk::test
