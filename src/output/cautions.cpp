#include "loopwalk/output/results.hpp"

namespace loopwalk::output {

const std::vector<std::string>& cautions() {
    static const std::vector<std::string> texts = {
        "These are predictions from records. This is not a permit and not a certificate.",
        "Prove dead at the point of work. A lamp off in daylight proves nothing.",
        "A column can hold more than one supply.",
        "What is recorded as removed, disconnected or beyond an open point may be live.",
        "Only the distributor, or whom it authorises, works on its equipment.",
        {"Inspection and test to the wiring rules by a competent person decide; local codes "
         "prevail."},
        "A lost neutral is not detected by anything computed here.",
    };
    return texts;
}

} // namespace loopwalk::output
