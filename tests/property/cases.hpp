// How many random cases a property is tried on. LW_TEST_SEED sets the first seed (a failing case
// names its own: LW_TEST_SEED=<seed> LW_TEST_CASES=1 replays it), LW_TEST_CASES the number.
#pragma once

#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <string>

namespace loopwalk::test {

struct Cases {
    std::uint64_t first = 0;
    std::uint64_t count = 0;
};

inline Cases cases(std::uint64_t count) {
    const auto setting = [](const char* name, std::uint64_t otherwise) {
        const char* const text = std::getenv(name);
        return text == nullptr ? otherwise : std::strtoull(text, nullptr, 10);
    };
    const Cases result{setting("LW_TEST_SEED", 1), setting("LW_TEST_CASES", count)};
    std::cout << "LW_TEST_SEED=" << result.first << " LW_TEST_CASES=" << result.count << '\n';
    return result;
}

} // namespace loopwalk::test
