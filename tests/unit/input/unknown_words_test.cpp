// Words that nobody knows, and what is missing, named as what they are.
#include "input_fixture.hpp"

namespace loopwalk::input {
namespace {

TEST_F(InputTest, NamesAStatusThatNobodyKnowsAndWhatItCountsAs) {
    plain_cables();
    layer(AssetLayer::columns, {{point(100, 100), R"("column_id":"C1","status":"LIV")"},
                                {point(110, 100), R"("column_id":"C2","status":"rmv")"},
                                {point(120, 100), R"("column_id":"C3","status":"RMV")"}});
    const ReadResult result = read();
    const auto words = found(Rule::bad_value);
    ASSERT_EQ(words.size(), 2U);
    EXPECT_EQ(words[0].asset_id, "C1");
    EXPECT_EQ(words[0].count, 1);
    EXPECT_EQ(words[1].asset_id, "C2");
    EXPECT_EQ(words[1].count, 2);
    EXPECT_EQ(
        words[1].message,
        "The word 'rmv' in field status of layer columns (2 features) is not known: taken to be "
        "in service. If it stands for removed or disconnected, every figure that counts on these "
        "is wrong.");
    EXPECT_EQ(words[1].severity, base::Severity::warning);
    // The run record says it too: nobody need look through the findings.
    EXPECT_NE(std::find(result.assumptions.begin(), result.assumptions.end(), words[1].message),
              result.assumptions.end());
}

TEST_F(InputTest, SaysThatOtherUnknownWordsCountAsNotRecorded) {
    plain_cables();
    layer(AssetLayer::columns, {{point(100, 100), R"("column_id":"C1","owner":"WBC")"}});
    (void)read();
    ASSERT_EQ(found(Rule::bad_value).size(), 1U);
    EXPECT_NE(found(Rule::bad_value)[0].message.find("'WBC' in field owner of layer columns (1 "
                                                     "feature) is not known; it counts as not "
                                                     "recorded."),
              std::string::npos);
}

TEST_F(InputTest, TellsARatingWithoutATypeFromNoFuseAtAll) {
    plain_cables();
    layer(AssetLayer::columns,
          {{point(100, 100), R"("column_id":"C1","load_w":70,"fuse_a":6)"},
           {point(110, 100), R"("column_id":"C2","load_w":70,"fuse_a":10)"},
           {point(120, 100), R"("column_id":"C3","load_w":70,"fuse_a":null)"},
           {point(130, 100), R"("column_id":"C4","load_w":70,"fuse_a":6,"fuse_type":"E14")"}});
    (void)read();
    std::vector<std::string> messages;
    for (const Finding& finding : found(Rule::fuse_unknown)) {
        messages.push_back(finding.asset_id + ": " + finding.message);
    }
    std::sort(messages.begin(), messages.end());
    ASSERT_EQ(messages.size(), 2U);
    EXPECT_EQ(messages[0], "C1: No fuse type is recorded for 3 features of layer columns; for 2 "
                           "features of them a rating is: any type of that rating may be there.");
    EXPECT_EQ(messages[1],
              "C4: The fuse type 'E14' of layer columns (1 feature) is not in the catalogue.");
}

} // namespace
} // namespace loopwalk::input
