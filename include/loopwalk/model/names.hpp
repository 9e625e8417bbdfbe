// The contract's words for what records hold, for people and for output layers.
#pragma once

#include "loopwalk/model/layers.hpp"

#include <string_view>

namespace loopwalk::model {

/// "measured", "declared" or "assumed".
[[nodiscard]] constexpr std::string_view basis_name(Basis basis) noexcept {
    switch (basis) {
    case Basis::measured:
        return "measured";
    case Basis::declared:
        return "declared";
    case Basis::assumed:
        return "assumed";
    }
    return "";
}

/// "TN-C-S", "TN-S", "TT"; empty if it is not recorded.
[[nodiscard]] constexpr std::string_view earthing_name(Earthing earthing) noexcept {
    switch (earthing) {
    case Earthing::tn_c_s:
        return "TN-C-S";
    case Earthing::tn_s:
        return "TN-S";
    case Earthing::tt:
        return "TT";
    case Earthing::unknown:
        break;
    }
    return "";
}

/// "L1"; empty if it is not recorded.
[[nodiscard]] constexpr std::string_view phase_name(Phase phase) noexcept {
    switch (phase) {
    case Phase::l1:
        return "L1";
    case Phase::l2:
        return "L2";
    case Phase::l3:
        return "L3";
    case Phase::unknown:
        break;
    }
    return "";
}

} // namespace loopwalk::model
