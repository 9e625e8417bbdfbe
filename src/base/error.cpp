#include "loopwalk/base/error.hpp"

#include <string_view>

namespace loopwalk::base {

void assertion_failed(const char* condition, const char* file, int line) {
    // Only the file's own name: where the program was built is nobody's business.
    std::string_view name(file);
    name.remove_prefix(name.find_last_of('/') + 1);
    throw InternalError("internal fault: '" + std::string(condition) + "' does not hold at " +
                        std::string(name) + ":" + std::to_string(line));
}

} // namespace loopwalk::base
