#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/dataset.hpp"
#include "loopwalk/gis/interrupt.hpp"
#include "loopwalk/gis/output.hpp"

#include "fixture.hpp"
#include <optional>

namespace loopwalk::gis::test {

namespace {

bool always() noexcept {
    return true;
}

/// Leaves no check behind for the tests after it.
struct Stopping {
    Stopping() { set_stop_check(&always); }
    Stopping(const Stopping&) = delete;
    Stopping& operator=(const Stopping&) = delete;
    ~Stopping() { set_stop_check(nullptr); }
};

/// A GeoPackage with a view that never comes to an end after its only row.
std::string endless_view(const TempFolder& folder) {
    const std::string path = folder / "endless.gpkg";
    OutputDataset output(path, Overwrite::no, {});
    LayerWriter writer = output.create_layer(
        {"t", GeometryKind::none, SpatialIndex::no, {{"n", FieldKind::integer}}}, Crs());
    writer.row().set(0, std::int64_t{1});
    writer.write();
    output.finish();
    execute(path, "CREATE VIEW endless AS WITH RECURSIVE r(n) AS (SELECT 1 UNION ALL "
                  "SELECT n + 1 FROM r) SELECT n AS fid, n FROM r WHERE n = 1 OR n < 0;"
                  "INSERT INTO gpkg_contents (table_name, data_type, identifier, last_change) "
                  "VALUES ('endless', 'attributes', 'endless', '2000-01-01T00:00:00.000Z')");
    return path;
}

} // namespace

// Without the check inside the query neither call would come back.
TEST(Interrupt, EndsAQueryThatIsRunning) {
    const TempFolder folder;
    const std::string path = endless_view(folder);
    Dataset dataset(path);
    std::optional<Layer> layer = dataset.find_layer("endless");
    ASSERT_TRUE(layer.has_value());
    const Stopping stopping;
    EXPECT_THROW(static_cast<void>(layer->count()), base::Interrupted);
    LayerCursor cursor = layer->read({}, Layer::WithGeometry::no);
    ASSERT_TRUE(cursor.next()); // the only row
    EXPECT_THROW(static_cast<void>(cursor.next()), base::Interrupted);
}

TEST(Interrupt, NothingStopsWithoutACheck) {
    EXPECT_NO_THROW(stop_if_asked());
}

} // namespace loopwalk::gis::test
