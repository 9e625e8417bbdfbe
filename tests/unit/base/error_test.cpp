#include "loopwalk/base/error.hpp"

#include <gtest/gtest.h>

namespace loopwalk::base {
namespace {

TEST(Error, EachKindKnowsItsExitStatus) {
    EXPECT_EQ(ConfigError("x").code(), ExitCode::usage);
    EXPECT_EQ(InputError("x").code(), ExitCode::input);
    EXPECT_EQ(OutputError("x").code(), ExitCode::output);
    EXPECT_EQ(InternalError("x").code(), ExitCode::internal);
    EXPECT_EQ(Interrupted().code(), ExitCode::interrupted);
    EXPECT_EQ(static_cast<int>(ExitCode::internal), 70);
}

TEST(Error, AssertionNamesConditionAndFileWithoutFolder) {
    LW_ASSERT(1 + 1 == 2);
    try {
        LW_ASSERT(1 + 1 == 3);
        FAIL() << "the assertion must throw";
    } catch (const InternalError& e) {
        const std::string text = e.what();
        EXPECT_NE(text.find("1 + 1 == 3"), std::string::npos) << text;
        EXPECT_NE(text.find("error_test.cpp:"), std::string::npos) << text;
        EXPECT_EQ(text.find('/'), std::string::npos) << text;
    }
}

} // namespace
} // namespace loopwalk::base
