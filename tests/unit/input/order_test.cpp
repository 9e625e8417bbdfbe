// The order of features and the direction of lines change nothing.
#include "loopwalk/base/text.hpp"

#include "input_fixture.hpp"
#include <algorithm>
#include <random>

namespace loopwalk::input {
namespace {

using base::Point2;

/// A small town with repeated and missing ids, equal lines, odd words and values.
struct Town {
    std::vector<Feature> columns, supplies;
    std::vector<std::vector<Point2>> lines;
    std::vector<std::string> cable_properties;
};

Town make_town(std::mt19937& random) {
    std::uniform_int_distribution<int> place(0, 300);
    std::uniform_int_distribution<int> id(0, 60);
    const Texts words{"council", "parish", "Parish", "estate"};
    Town town;
    for (int i = 0; i < 120; ++i) {
        const auto n = static_cast<std::size_t>(id(random));
        town.columns.push_back(
            {n % 17 == 0 ? "null" : point(1000 + place(random), 1000 + place(random)),
             R"("column_id":)" + (n % 13 == 0 ? "null" : "\"C" + std::to_string(n) + "\"") +
                 R"(,"owner":")" + words[n % 4] + R"(","load_w":)" +
                 std::to_string(n - 5 * (n % 2)) + R"(,"area":"W)" + std::to_string(n % 3) + "\"",
             i});
        const double x = 1000 + place(random);
        const double y = 1000 + place(random);
        town.lines.push_back({{x, y}, {x + 5, y + static_cast<double>(n % 4)}, {x + 20, y}});
        town.cable_properties.push_back(R"("cable_id":"K)" + std::to_string(n) +
                                        R"(","cable_type":")" + words[n % 4] + R"(","length_m":)" +
                                        std::to_string(n % 5 * 20));
    }
    town.lines[7] = town.lines[8];
    town.supplies = {{point(1000, 1000), R"("supply_id":"P1")", 1},
                     {point(1100, 1000), R"("supply_id":"P1")", 2}};
    return town;
}

std::string line_text(const std::vector<Point2>& vertices) {
    std::string text;
    for (const Point2 p : vertices) {
        text += (text.empty() ? "[" : ",[") + base::number_text(p.x) + "," +
                base::number_text(p.y) + "]";
    }
    return line("[" + text + "]");
}

/// All that reading gives but the position of features, as text.
std::string dump(const ReadResult& result, const base::FindingList& findings) {
    const model::Layers& l = result.layers;
    std::string text;
    const auto add = [&text](const std::string& field) { text += field + "|"; };
    const auto number = [&add](auto maybe) {
        add(maybe.has_value() ? base::number_text((*maybe).value()) : "-");
    };
    for (const model::Column& c : l.columns) {
        add(l.id_text(c.id) + " " + l.id_text(c.area) + " " + std::to_string(c.fid));
        add(base::number_text(c.place.x) + " " + base::number_text(c.place.y));
        add(std::to_string(static_cast<int>(c.owner)) + (c.has_place ? "p" : "n"));
        number(c.load);
    }
    for (const model::Cable& c : l.cables) {
        add(l.id_text(c.id) + " " + l.id_text(c.type.text) + " " + std::to_string(c.fid));
        number(c.laid);
        for (const model::Part& part : l.parts_of(c)) {
            add(base::number_text(part.drawn.value()) + " " +
                base::number_text(part.planar.value()) + " " + std::to_string(part.cable.index()));
            for (const Point2 p : l.line(part)) {
                add(base::number_text(p.x) + " " + base::number_text(p.y));
            }
        }
    }
    for (const model::Supply& s : l.supplies) {
        add(l.id_text(s.id) + " " + std::to_string(s.fid));
    }
    for (const Finding& f : findings.all()) {
        add(std::string(base::rule_name(f.rule)) + " " + f.asset_id + " " + f.message + " " +
            (f.value ? base::number_text(*f.value) : "-") + " " +
            (f.place ? base::number_text(f.place->x) : "-"));
    }
    for (const Completeness& c : result.completeness) {
        add(c.attribute + " " + c.area + " " + std::to_string(c.known) + "/" +
            std::to_string(c.total));
    }
    return text;
}

TEST_F(InputTest, OrderOfFeaturesAndDirectionOfLinesChangeNothing) {
    std::mt19937 random(20240501);
    const Town town = make_town(random);
    std::string first;
    for (int round = 0; round < 6; ++round) {
        std::vector<Feature> columns = town.columns;
        std::vector<Feature> cables;
        for (std::size_t i = 0; i < town.lines.size(); ++i) {
            std::vector<Point2> vertices = town.lines[i];
            if (round > 0 && random() % 2 == 0) {
                std::reverse(vertices.begin(), vertices.end());
            }
            cables.push_back({line_text(vertices), town.cable_properties[i], static_cast<int>(i)});
        }
        std::vector<Feature> supplies = town.supplies;
        if (round > 0) {
            std::shuffle(columns.begin(), columns.end(), random);
            std::shuffle(cables.begin(), cables.end(), random);
            std::shuffle(supplies.begin(), supplies.end(), random);
        }
        layer(AssetLayer::columns, columns);
        layer(AssetLayer::cables, cables);
        layer(AssetLayer::supplies, supplies);
        const ReadResult result = read();
        for (std::size_t i = 0; i < columns.size(); ++i) {
            EXPECT_EQ(result.layers.columns[result.position_of_feature[0][i]].fid, columns[i].fid);
        }
        for (std::size_t i = 0; i < cables.size(); ++i) {
            EXPECT_EQ(result.layers.cables[result.position_of_feature[1][i]].fid, cables[i].fid);
        }
        if (round == 0) {
            first = dump(result, *m_list);
        }
        EXPECT_EQ(dump(result, *m_list), first) << "round " << round;
    }
    for (const Rule rule : {Rule::duplicate_id, Rule::duplicate_geometry, Rule::bad_value,
                            Rule::bad_geometry, Rule::type_unknown, Rule::length_differs}) {
        EXPECT_FALSE(found(rule).empty()) << base::rule_name(rule); // the town is odd enough
    }
}

TEST_F(InputTest, CanonicalOrderIsByIdText) {
    plain_cables();
    layer(AssetLayer::columns, {{point(1, 1), R"("column_id":"C10")"},
                                {point(50, 1), R"("column_id":"C9")"},
                                {point(90, 1), R"("column_id":"B")"}});
    const ReadResult result = read();
    EXPECT_EQ(result.layers.id_text(result.layers.columns[0].id), "B");
    EXPECT_EQ(result.layers.id_text(result.layers.columns[1].id), "C10");
    EXPECT_EQ(result.position_of_feature[0], (std::vector<std::uint32_t>{1, 2, 0}));
}

} // namespace
} // namespace loopwalk::input
