// What the assessment looks at, gathered: records, tables, settings and the traced network.
#pragma once

#include "loopwalk/impedance/assumptions.hpp"
#include "loopwalk/trace/trace.hpp"

namespace loopwalk::figures {

using impedance::Assumptions;

/// What the figures are calculated from; all of it outlives them.
struct Inputs {
    const model::Layers& layers;           ///< as read
    const catalogue::Catalogue& catalogue; ///< of the job
    const config::Job& job;                ///< limits and defaults
    const Assumptions& assumptions;        ///< what stands for missing records
    const network::Network& network;       ///< the snapped one
    const trace::Trace& trace;             ///< what feeds what
};

} // namespace loopwalk::figures
