// Pages without a town: what is given up when a page is too long, and what never is.
#include "loopwalk/sheet/sheet.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

namespace loopwalk::sheet {
namespace {

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);) {
        lines.push_back(line);
    }
    return lines;
}

Part part_of(const std::string& name, std::size_t items, std::size_t keep) {
    Part part{name, name, {}, keep};
    for (std::size_t i = 1; i <= items; ++i) {
        part.items.push_back(name + " item " + std::to_string(i));
    }
    return part;
}

bool has(const std::vector<std::string>& lines, const std::string& wanted) {
    return std::ranges::find(lines, wanted) != lines.end();
}

Sheet sheet_of(std::vector<Part> parts) {
    return {base::AssetLayer::columns, "A", "OURS", "Column A", std::move(parts),
            {"Signature: __"}};
}

TEST(SheetText, OwnerInSpacedCapitalsStandsFirst) {
    EXPECT_EQ(lines_of(as_text(sheet_of({part_of("few", 1, 1)}))).front(), "O U R S");
}

// Owner and title 2 lines, purpose 2, blanks 2 with their heading; the cautions are 488 characters,
// 7 lines of up to 80 by hand, and a heading: 14. The page has 46 lines for parts: two headings, 3
// items that are kept, 41 for the list, one of which says that 60 of its 100 are missing.
TEST(SheetText, ListThatIsTooLongFoldsAndSaysHowMany) {
    const auto lines =
        lines_of(as_text(sheet_of({part_of("kept", 3, 3), part_of("list", 100, 1)})));
    EXPECT_EQ(lines.size(), kLines);
    EXPECT_TRUE(has(lines, "kept item 3"));
    const auto shown = static_cast<std::size_t>(std::ranges::count_if(
        lines, [](const std::string& line) { return line.starts_with("list item"); }));
    EXPECT_EQ(shown, 40U);
    EXPECT_TRUE(has(lines, "and 60 more: see explain"));
}

TEST(SheetText, PageThatFitsGivesNothingUp) {
    const std::string text = as_text(sheet_of({part_of("list", 30, 0)}));
    EXPECT_EQ(text.find("see explain"), std::string::npos);
    EXPECT_NE(text.find("list item 30"), std::string::npos);
}

TEST(SheetText, WhatMustStayStaysEvenBeyondThePage) {
    const auto lines = lines_of(as_text(sheet_of({part_of("ends", 70, 70)})));
    EXPECT_GT(lines.size(), kLines);
    EXPECT_TRUE(has(lines, "ends item 70"));
}

TEST(SheetText, LinesAreNoWiderThanThePaper) {
    Part part{"long", "long", {std::string(), std::string()}, 2};
    for (int i = 0; i < 60; ++i) {
        part.items[0] += (i > 0 ? " " : "") + std::string("word");
        part.items[1] += (i > 0 ? " " : "") + std::string("Überland");
    }
    for (const std::string& line : lines_of(as_text(sheet_of({part})))) {
        const auto continued = std::ranges::count_if(
            line, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; });
        EXPECT_LE(line.size() - static_cast<std::size_t>(continued), kWidth) << line;
    }
}

TEST(SheetText, EveryCautionStandsOnThePage) {
    std::string flat;
    for (const std::string& line : lines_of(as_text(sheet_of({part_of("list", 100, 1)})))) {
        const std::size_t first = line.find_first_not_of(' ');
        flat += " " + (first == std::string::npos ? "" : line.substr(first));
    }
    for (const std::string& caution : output::cautions()) {
        EXPECT_NE(flat.find(caution), std::string::npos) << caution;
    }
}

TEST(SheetJson, HoldsWhatThePageGaveUp) {
    const std::string json = as_json({sheet_of({part_of("list", 100, 1)})});
    EXPECT_NE(json.find("list item 100"), std::string::npos);
    EXPECT_NE(json.find("\"asset_id\": \"A\""), std::string::npos);
}

} // namespace
} // namespace loopwalk::sheet
