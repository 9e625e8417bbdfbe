// A job file written by a test, and what reading it gives.
#pragma once

#include "loopwalk/base/error.hpp"
#include "loopwalk/config/config.hpp"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <unistd.h>

namespace loopwalk::config {

/// A folder of the test's own that goes away with it.
class JobFile : public testing::Test {
  protected:
    void SetUp() override {
        const auto* info = testing::UnitTest::GetInstance()->current_test_info();
        m_folder = std::filesystem::temp_directory_path() /
                   ("loopwalk_job_" + std::to_string(getpid()) + "_" + info->name());
        std::filesystem::create_directories(m_folder);
    }
    void TearDown() override { std::filesystem::remove_all(m_folder); }

    [[nodiscard]] std::string path() const { return (m_folder / "job.toml").string(); }
    void write(const std::string& text) const { std::ofstream(path()) << text; }
    [[nodiscard]] Job read(const std::string& text) const {
        write(text);
        return read_job_file(path());
    }
    /// The message of the base::ConfigError that the text gives; empty if it is accepted.
    [[nodiscard]] std::string error(const std::string& text) const {
        try {
            check(read(text));
        } catch (const base::ConfigError& e) {
            return e.what();
        }
        return {};
    }
    [[nodiscard]] static bool has(const std::string& text, const std::string& part) {
        return text.find(part) != std::string::npos;
    }

    std::filesystem::path m_folder;
};

} // namespace loopwalk::config
