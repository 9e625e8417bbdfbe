// The packed index against SQLite's own check and against counting the features one by one.
// Coordinates are multiples of 1/4 below 2^19, which a 32-bit float holds exactly, so both counts
// must be equal to the last feature.
#include "loopwalk/gis/output.hpp"

#include "fixture.hpp"
#include <random>

namespace loopwalk::gis::test {

namespace {

std::vector<base::Box> random_boxes(std::size_t count, std::mt19937& random) {
    std::uniform_int_distribution<int> place(0, 40000);
    std::uniform_int_distribution<int> size(0, 200);
    std::vector<base::Box> boxes;
    for (std::size_t i = 0; i < count; ++i) {
        const double x = 400000.0 + place(random) / 4.0;
        const double y = -20000.0 + place(random) / 4.0;
        boxes.push_back({x, y, x + size(random) / 4.0, y + size(random) / 4.0});
    }
    return boxes;
}

void write_boxes(const std::string& path, const std::vector<base::Box>& boxes) {
    OutputDataset output(path, Overwrite::no, {});
    LayerWriter writer =
        output.create_layer({"t", GeometryKind::line, SpatialIndex::yes, {}}, Crs());
    for (const base::Box& box : boxes) {
        static_cast<void>(writer.row());
        writer.write(std::vector<base::Polyline>{{{box.min_x, box.max_y}, {box.max_x, box.min_y}}});
    }
    output.finish();
}

std::size_t count_one_by_one(const std::vector<base::Box>& boxes, const base::Box& query) {
    std::size_t found = 0;
    for (const base::Box& box : boxes) {
        const bool meets = box.min_x <= query.max_x && box.max_x >= query.min_x &&
                           box.min_y <= query.max_y && box.max_y >= query.min_y;
        found += meets ? std::size_t{1} : std::size_t{0};
    }
    return found;
}

std::string count_by_index(const std::string& path, const base::Box& box) {
    return value(path, "SELECT count(*) FROM rtree_t_geom WHERE minx <= " +
                           std::to_string(box.max_x) + " AND maxx >= " + std::to_string(box.min_x) +
                           " AND miny <= " + std::to_string(box.max_y) +
                           " AND maxy >= " + std::to_string(box.min_y));
}

} // namespace

// 51 entries fill a node, 51 * 51 = 2601 a tree of two levels, 132,651 one of three.
class PackedIndex : public testing::TestWithParam<std::size_t> {};

TEST_P(PackedIndex, IsSoundAndFindsWhatCountingFinds) {
    const TempFolder folder;
    const std::string path = folder / "t.gpkg";
    std::mt19937 random(20240501);
    const std::vector<base::Box> boxes = random_boxes(GetParam(), random);
    write_boxes(path, boxes);
    EXPECT_EQ(value(path, "SELECT rtreecheck('rtree_t_geom')"), "ok");
    EXPECT_EQ(value(path, "PRAGMA integrity_check"), "ok");
    EXPECT_EQ(value(path, "SELECT count(*) FROM rtree_t_geom"), std::to_string(boxes.size()));
    for (const base::Box& query : random_boxes(20, random)) {
        const base::Box wide{query.min_x, query.min_y, query.max_x + 700, query.max_y + 700};
        EXPECT_EQ(count_by_index(path, wide), std::to_string(count_one_by_one(boxes, wide)));
    }
}

INSTANTIATE_TEST_SUITE_P(Sizes, PackedIndex,
                         testing::Values(0U, 1U, 51U, 52U, 2601U, 2602U, 5000U, 100000U));

TEST(PackedIndexRows, AreRoundedOutwards) {
    const TempFolder folder;
    const std::string path = folder / "t.gpkg";
    write_boxes(path, {{-0.1, -0.3, 0.1, 530000.1}}); // none of these is a 32-bit float
    EXPECT_EQ(value(path, "SELECT minx <= -0.1 AND maxx >= 0.1 AND miny <= -0.3 AND "
                          "maxy >= 530000.1 FROM rtree_t_geom"),
              "1");
    EXPECT_EQ(value(path, "SELECT minx > -0.1001 AND maxx < 0.1001 AND miny > -0.3001 AND "
                          "maxy < 530000.3 FROM rtree_t_geom"),
              "1");
}

// What SQLite itself adds to and takes from a packed tree leaves it sound.
TEST(PackedIndexRows, CanBeEditedAfterwards) {
    const TempFolder folder;
    const std::string path = folder / "t.gpkg";
    std::mt19937 random(7);
    write_boxes(path, random_boxes(3000, random));
    execute(path, "BEGIN; DELETE FROM rtree_t_geom WHERE id % 3 = 0;"
                  "WITH RECURSIVE n(i) AS (VALUES(1) UNION ALL SELECT i + 1 FROM n WHERE i < 500) "
                  "INSERT INTO rtree_t_geom SELECT 10000 + i, 400000 + i, 400001 + i, i, i + 1 "
                  "FROM n; COMMIT");
    EXPECT_EQ(value(path, "SELECT rtreecheck('rtree_t_geom')"), "ok");
    EXPECT_EQ(value(path, "SELECT count(*) FROM rtree_t_geom"), "2500");
}

} // namespace loopwalk::gis::test
