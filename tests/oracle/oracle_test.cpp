// Every line of every tests/oracle/*.txt.
#include <gtest/gtest.h>

#include "oracle/oracle_line.hpp"
#include <algorithm>
#include <filesystem>
#include <fstream>

namespace loopwalk::oracle {
namespace {

std::vector<std::filesystem::path> oracle_files() {
    std::vector<std::filesystem::path> files;
    for (const auto& entry :
         std::filesystem::directory_iterator(LOOPWALK_SOURCE_DIR "/tests/oracle")) {
        if (entry.path().extension() == ".txt" && entry.path().filename() != "CMakeLists.txt") {
            files.push_back(entry.path());
        }
    }
    std::sort(files.begin(), files.end());
    return files;
}

class OracleFile : public ::testing::TestWithParam<std::filesystem::path> {};

TEST_P(OracleFile, AgreesWithItsSources) {
    const Calls calls = catalogue_calls();
    std::ifstream file(GetParam());
    ASSERT_TRUE(file.is_open());
    std::size_t number = 0;
    std::size_t compared = 0;
    for (std::string line; std::getline(file, line);) {
        const LineResult result = check_line(line, calls);
        ++number;
        compared += result.kind == LineKind::blank ? 0U : 1U;
        EXPECT_FALSE(result.kind == LineKind::complaint)
            << GetParam().filename().string() << ", line " << number << ": " << result.complaint;
    }
    EXPECT_GT(compared, 0U) << "no line to compare";
    RecordProperty("lines", static_cast<int>(compared));
}

std::string test_name(const ::testing::TestParamInfo<std::filesystem::path>& info) {
    std::string name = info.param.stem().string();
    std::replace_if(
        name.begin(), name.end(),
        [](char c) { return !std::isalnum(static_cast<unsigned char>(c)); }, '_');
    return name;
}

INSTANTIATE_TEST_SUITE_P(All, OracleFile, ::testing::ValuesIn(oracle_files()), test_name);

// The runner itself: what must fail does fail.
TEST(OracleLine, AgreesWithinTheTolerance) {
    const Calls calls{{"two", [](const auto&) { return 2.0; }}};
    for (const char* line : {"two | 2 | exact | S", "two | 2.04 | print 0.05 | S",
                             "two|1.9|abs 0.1|S", "two | 2.02 | rel 1% | S"}) {
        EXPECT_EQ(check_line(line, calls).kind, LineKind::agrees) << line;
    }
    for (const char* line : {"", "   ", "# a remark"}) {
        EXPECT_EQ(check_line(line, calls).kind, LineKind::blank) << line;
    }
}

TEST(OracleLine, ComplainsOtherwise) {
    const Calls calls{{"two", [](const auto&) { return 2.0; }}};
    for (const char* line :
         {"two | 2.1 | exact | S", "two | 2.06 | print 0.05 | S", "two | 2.03 | rel 1% | S",
          "three | 3 | exact | S", "two | 2 | exact |", "two | 2 | exact", "two | 2 | roughly | S",
          "two | two | exact | S", "two | 2 | rel 1 | S", "\"two | 2 | exact | S"}) {
        EXPECT_EQ(check_line(line, calls).kind, LineKind::complaint) << line;
    }
}

TEST(OracleLine, ComplainsOfWhatTheCatalogueLacks) {
    const Calls calls = catalogue_calls();
    for (const char* line :
         {"r20 \"No such cable\" line | 1 | exact | S", "r20 \"Flex 3x1.5\" armour | 1 | exact | S",
          "r20 \"Flex 3x1.5\" sheath | 1 | exact | S", "zs_limit \"BS 88-2\" 11 5 | 1 | exact | S",
          "zs_limit \"BS 88-2\" 10 | 1 | exact | S", "slow_time \"MCB B\" 10 49 | 1 | exact | S"}) {
        EXPECT_EQ(check_line(line, calls).kind, LineKind::complaint) << line;
    }
}

} // namespace
} // namespace loopwalk::oracle
