// What the assessment looks at, gathered: records, tables, settings and the traced network.
#pragma once

#include "loopwalk/impedance/assumptions.hpp"
#include "loopwalk/trace/trace.hpp"

namespace loopwalk::figures {

using impedance::Assumptions;

struct Inputs {
    const model::Layers& layers;
    const catalogue::Catalogue& catalogue;
    const config::Job& job;
    const Assumptions& assumptions;
    const network::Network& network;
    const trace::Trace& trace;
};

} // namespace loopwalk::figures
