// The feature id, or several fields, as the id of a column.
#include "input_fixture.hpp"

namespace loopwalk::input {
namespace {

TEST_F(InputTest, TakesTheFeatureIdWhereTheJobAsksForIt) {
    plain_cables();
    layer(AssetLayer::columns,
          {{point(100, 100), R"("road":"R")", 7}, {point(130, 100), R"("road":"R")", 3}});
    EXPECT_NE(error<base::InputError>().find("column_id"), std::string::npos);
    source(AssetLayer::columns).fields = {{"column_id", {"FID"}}};
    const ReadResult result = read();
    ASSERT_EQ(result.layers.columns.size(), 2U);
    EXPECT_EQ(result.layers.id_text(result.layers.columns[0].id), "3");
    EXPECT_EQ(result.layers.id_text(result.layers.columns[1].id), "7");
    EXPECT_TRUE(found(Rule::bad_value).empty());
    EXPECT_TRUE(found(Rule::duplicate_id).empty());
}

TEST_F(InputTest, PrefersAFieldOfThatName) {
    plain_cables();
    layer(AssetLayer::columns, {{point(100, 100), R"("fid":"A9")", 7}});
    source(AssetLayer::columns).fields = {{"column_id", {"fid"}}};
    const ReadResult result = read();
    EXPECT_EQ(result.layers.id_text(result.layers.columns[0].id), "A9");
}

TEST_F(InputTest, JoinsFieldsToAnId) {
    plain_cables();
    layer(AssetLayer::columns, {{point(100, 100), R"("street":"Mill Lane","no":1)"},
                                {point(130, 100), R"("street":"Weir Street","no":1)"}});
    source(AssetLayer::columns).fields = {{"column_id", {"street", "no"}}};
    const ReadResult result = read();
    EXPECT_EQ(result.layers.id_text(result.layers.columns[0].id), "Mill Lane 1");
    EXPECT_EQ(result.layers.id_text(result.layers.columns[1].id), "Weir Street 1");
}

} // namespace
} // namespace loopwalk::input
