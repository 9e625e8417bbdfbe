#include "loopwalk/report/page.hpp"

namespace loopwalk::report {

// Out of line: GCC 12 sees uninitialised parts of a variant where these are inlined.
void Page::heading(std::string text) {
    blocks.emplace_back(Heading{std::move(text)});
}

void Page::paragraph(std::string text) {
    blocks.emplace_back(Paragraph{std::move(text)});
}

void Page::add(Block block) {
    blocks.push_back(std::move(block));
}

} // namespace loopwalk::report
