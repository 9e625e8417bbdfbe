// What the assessment looks at, gathered: records, tables, settings and the traced network.
#pragma once

#include "loopwalk/assess/assumptions.hpp"
#include "loopwalk/trace/trace.hpp"

namespace loopwalk::assess {

struct Inputs {
    const model::Layers& layers;
    const catalogue::Catalogue& catalogue;
    const config::Job& job;
    const Assumptions& assumptions;
    const network::Network& network;
    const trace::Trace& trace;
};

} // namespace loopwalk::assess
