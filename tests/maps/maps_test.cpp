// Every *.txt of this folder is a test: see README.md.
#include <gtest/gtest.h>

#include "map_run.hpp"
#include <algorithm>
#include <filesystem>
#include <unistd.h>

namespace loopwalk::maps {
namespace {

namespace fs = std::filesystem;

std::vector<std::string> case_names() {
    std::vector<std::string> names;
    for (const auto& entry : fs::directory_iterator(LOOPWALK_SOURCE_DIR "/tests/maps")) {
        if (entry.path().extension() == ".txt" && entry.path().filename() != "CMakeLists.txt") {
            names.push_back(entry.path().stem().string());
        }
    }
    std::ranges::sort(names);
    return names;
}

class Folder {
  public:
    explicit Folder(const std::string& name)
        : m_path(fs::temp_directory_path() /
                 ("loopwalk_map_" + name + "_" + std::to_string(::getpid()))) {
        fs::create_directories(m_path);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    ~Folder() {
        std::error_code ignored;
        fs::remove_all(m_path, ignored);
    }
    [[nodiscard]] std::string text() const { return m_path.string(); }

  private:
    fs::path m_path;
};

class DrawnCase : public testing::TestWithParam<std::string> {};

TEST_P(DrawnCase, HoldsWhatIsExpected) {
    const MapCase map = read_case(LOOPWALK_SOURCE_DIR "/tests/maps/" + GetParam() + ".txt");
    const Folder folder(GetParam());
    for (const Order order : {Order::as_written, Order::reversed}) {
        const std::string result = run_case(map, folder.text(), order);
        for (const std::string& difference : differences(map, result)) {
            ADD_FAILURE() << map.title << "\n"
                          << GetParam() << ".txt, " << difference
                          << (order == Order::reversed ? " (rows and lines reversed)" : "");
        }
    }
}

INSTANTIATE_TEST_SUITE_P(Maps, DrawnCase, testing::ValuesIn(case_names()),
                         [](const auto& tested) { return tested.param; });

} // namespace
} // namespace loopwalk::maps
