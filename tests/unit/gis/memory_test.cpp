#include "loopwalk/gis/memory.hpp"

#include <gtest/gtest.h>

#include "../../../src/gis/gdal_setup.hpp"
#include <cstddef>
#include <cstdlib>
#include <new>

namespace loopwalk::gis::test {

namespace {

/// As PROJ does: catches the refusal and goes on with a value less. Exit status 1 if it is told.
[[noreturn]] void go_on_without() {
    ensure_gdal();
    try {
        check_memory();
        const volatile std::size_t much = std::size_t{1} << 62U;
        ::operator delete(::operator new(much));
        std::exit(2); // so much memory there was
    } catch (const std::bad_alloc&) {
        try {
            check_memory();
        } catch (const std::bad_alloc&) {
            std::exit(1);
        }
    }
    std::exit(0);
}

} // namespace

// In a process of its own, since it is told until the end.
TEST(MemoryDeathTest, RefusalsThatALibraryCatchesAreTold) {
    testing::GTEST_FLAG(death_test_style) = "threadsafe";
    EXPECT_EXIT(go_on_without(), testing::ExitedWithCode(1), "");
}

} // namespace loopwalk::gis::test
