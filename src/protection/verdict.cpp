#include "loopwalk/protection/verdict.hpp"

#include <algorithm>

namespace loopwalk::protection {

std::string_view verdict_name(Verdict v) noexcept {
    switch (v) {
    case Verdict::fails:
        return "fails";
    case Verdict::undecided:
        return "undecided";
    case Verdict::meets:
        return "meets";
    case Verdict::not_traced:
        return "not traced";
    case Verdict::not_ours:
        return "not ours";
    case Verdict::none:
        return "";
    }
    return "";
}

std::string_view clear_state_name(ClearState s) noexcept {
    switch (s) {
    case ClearState::clears:
        return "clears";
    case ClearState::not_within_table:
        return "not within table";
    case ClearState::not_computed:
        return "not computed";
    }
    return "";
}

Verdict worse(Verdict a, Verdict b) noexcept {
    return std::min(a, b);
}

} // namespace loopwalk::protection
