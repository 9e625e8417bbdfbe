// Every file of cases/ is a test; README.md tells what it holds.
#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"
#include "loopwalk/config/config.hpp"
#include "loopwalk/draft/draft.hpp"
#include "loopwalk/input/read_layers.hpp"

#include <gtest/gtest.h>

#include "draft_case.hpp"
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <unistd.h>

namespace loopwalk::test {
namespace {

namespace fs = std::filesystem;

const fs::path& folder() {
    static const fs::path path = fs::path(LOOPWALK_SOURCE_DIR) / "tests/draft/cases";
    return path;
}

std::vector<std::string> case_names() {
    std::vector<std::string> names;
    for (const auto& entry : fs::directory_iterator(folder())) {
        if (entry.path().extension() == ".txt") {
            names.push_back(entry.path().stem().string());
        }
    }
    std::sort(names.begin(), names.end());
    return names;
}

const catalogue::Catalogue& built_in() {
    static const catalogue::Catalogue catalogue =
        catalogue::parse_catalogue(catalogue::built_in_text());
    return catalogue;
}

draft::Draft draft_of(const DraftCase& records, RowOrder order) {
    std::vector<draft::LayerProfile> profiles;
    for (const CaseLayer& layer : records.layers) {
        profiles.push_back(profile_of(layer, order));
    }
    return draft::guess(std::move(profiles), built_in());
}

bool ends_in_confidence(const std::string& line) {
    return line.ends_with(" sure") || line.ends_with(" likely") || line.ends_with(" unsure");
}

/// Whether one of the stated lines is what is expected.
bool is_met(const std::string& expected, const std::vector<std::string>& lines) {
    if (expected.ends_with(" = -")) { // nothing is stated of it
        const std::string key = expected.substr(0, expected.size() - 1);
        return std::none_of(lines.begin(), lines.end(), [&](const std::string& line) {
            return line.starts_with(key) && !line.ends_with(" unsure");
        });
    }
    return std::any_of(lines.begin(), lines.end(), [&](const std::string& line) {
        if (ends_in_confidence(expected)) {
            return line == expected;
        }
        return line == expected + " sure" || line == expected + " likely";
    });
}

/// The expectation for a stated line, if there is one.
bool is_foreseen(const std::string& line, const std::vector<std::string>& expected) {
    const std::string plain = line.substr(0, line.rfind(' '));
    return std::any_of(expected.begin(), expected.end(), [&](const std::string& wanted) {
        return wanted == line || wanted == plain;
    });
}

/// A file that disappears with the object.
class JobFile {
  public:
    explicit JobFile(const std::string& text)
        : m_path(fs::temp_directory_path() /
                 ("loopwalk_draft_" + std::to_string(getpid()) + ".toml")) {
        std::ofstream(m_path) << text;
    }
    JobFile(const JobFile&) = delete;
    JobFile& operator=(const JobFile&) = delete;
    ~JobFile() { fs::remove(m_path); }
    [[nodiscard]] std::string path() const { return m_path.string(); }

  private:
    fs::path m_path;
};

const config::FieldNames* names_in(const config::LayerSource& source, const std::string& field) {
    const auto found = std::find_if(source.fields.begin(), source.fields.end(),
                                    [&](const auto& f) { return f.field == field; });
    return found == source.fields.end() ? nullptr : &*found;
}

/// What is sure or likely is in the job, and nothing else.
void expect_same(const draft::Draft& draft, const config::Job& job) {
    for (const draft::LayerGuess& layer : draft.layers) {
        const config::LayerSource& source = job.data.of(layer.role);
        if (layer.confidence == draft::Confidence::unsure) {
            EXPECT_TRUE(source.fields.empty()) << base::layer_name(layer.role);
            continue;
        }
        EXPECT_EQ(source.layer, draft.profiles[layer.profile].name);
        for (const draft::FieldGuess& field : layer.fields) {
            const config::FieldNames* names = names_in(source, field.field);
            if (!field.is_stated()) {
                EXPECT_TRUE(names == nullptr || names->names.empty()) << field.field;
                continue;
            }
            ASSERT_NE(names, nullptr) << field.field;
            std::vector<std::string> expected{field.name};
            expected.insert(expected.end(), field.more_names.begin(), field.more_names.end());
            EXPECT_EQ(names->names, expected);
        }
    }
}

class DraftCases : public testing::TestWithParam<std::string> {
  protected:
    [[nodiscard]] DraftCase read() const {
        return read_draft_case((folder() / (GetParam() + ".txt")).string());
    }
};

TEST_P(DraftCases, StatesWhatIsExpected) {
    const DraftCase records = read();
    const draft::Draft draft = draft_of(records, RowOrder::as_written);
    const std::vector<std::string> lines = stated(draft);
    ASSERT_FALSE(records.expected.empty());
    for (const std::string& expected : records.expected) {
        EXPECT_TRUE(is_met(expected, lines)) << expected;
    }
    for (const std::string& line : lines) {
        if (line.ends_with(" sure")) {
            EXPECT_TRUE(is_foreseen(line, records.expected)) << "stated as sure: " << line;
        }
    }
    if (HasFailure()) {
        std::cerr << base::joined(lines, "\n") << "\n" << draft::job_text(draft, "");
    }
}

TEST_P(DraftCases, WritesAJobThatTheProgramReads) {
    const draft::Draft draft = draft_of(read(), RowOrder::as_written);
    const JobFile file(draft::job_text(draft, ""));
    const config::Job job = config::read_job_file(file.path());
    EXPECT_NO_THROW(config::check(job));
    expect_same(draft, job);
    // Words and numbers are checked before the dataset, which does not exist, is looked for.
    EXPECT_THROW(input::Source{job.data}, base::InputError);
}

TEST_P(DraftCases, DoesNotShowTheOrderOfTheRows) {
    const DraftCase records = read();
    EXPECT_EQ(draft::job_text(draft_of(records, RowOrder::as_written), ""),
              draft::job_text(draft_of(records, RowOrder::backwards), ""));
}

INSTANTIATE_TEST_SUITE_P(Files, DraftCases, testing::ValuesIn(case_names()),
                         [](const auto& test) { return test.param; });

} // namespace
} // namespace loopwalk::test
