// Expected coordinates come from the `cs2cs` command, lengths from the `geod` command of
// PROJ 9.1.1: vertices inverse-projected by `cs2cs -f %.13f CRS BASE`, then `geod -I -F %.6f
// +ellps=...`.
#include "loopwalk/base/error.hpp"
#include "loopwalk/gis/crs.hpp"
#include "loopwalk/gis/dataset.hpp"

#include "fixture.hpp"

namespace loopwalk::gis::test {

namespace {

double ground(const std::string& crs, const base::Polyline& line) {
    return GroundLength(Crs::from_text(crs)).of(line).value();
}

constexpr double kGeodText = 2e-6; // the commands print six decimals

} // namespace

TEST(CrsText, KnowsCodesAndNames) {
    EXPECT_EQ(Crs::from_text("EPSG:27700").text(), "EPSG:27700");
    EXPECT_EQ(Crs().text(), "unknown");
    EXPECT_THROW(static_cast<void>(Crs::from_text("EPSG:999999")), base::ConfigError);
    EXPECT_THROW(static_cast<void>(Crs::from_text("metres")), base::ConfigError);
    EXPECT_THROW(static_cast<void>(Crs::from_text("")), base::ConfigError);
}

TEST(CrsProperties, UnitsAndKinds) {
    EXPECT_TRUE(Crs::from_text("EPSG:4326").is_geographic());
    EXPECT_FALSE(Crs::from_text("EPSG:27700").is_geographic());
    EXPECT_EQ(Crs::from_text("EPSG:27700").metres_per_unit(), 1.0);
    // New York Long Island, US survey foot = 1200/3937 m.
    EXPECT_NEAR(Crs::from_text("EPSG:2263").metres_per_unit(), 1200.0 / 3937.0, 1e-12);
    EXPECT_EQ(Crs().metres_per_unit(), 1.0);
}

TEST(CrsSame, IgnoresAxisOrderAndHeight) {
    EXPECT_TRUE(Crs::from_text("EPSG:4326").same_as(Crs::from_text("OGC:CRS84")));
    EXPECT_TRUE(Crs::from_text("EPSG:7405").same_as(Crs::from_text("EPSG:27700"))); // + height
    EXPECT_FALSE(Crs::from_text("EPSG:27700").same_as(Crs::from_text("EPSG:4326")));
    EXPECT_FALSE(Crs::from_text("EPSG:27700").same_as(Crs()));
    EXPECT_TRUE(Crs().same_as(Crs()));
}

TEST(WorkingCrs, IsTheDataOwnIfInMetres) {
    EXPECT_EQ(working_crs(Crs::from_text("EPSG:27700"), {}).text(), "EPSG:27700");
    EXPECT_TRUE(working_crs(Crs(), {}).is_unknown());
}

TEST(WorkingCrs, IsTheUtmZoneElse) {
    // London lies in zone 30 north (6 west to 0), Paris in 31, Sydney in 56 south.
    const Crs wgs84 = Crs::from_text("EPSG:4326");
    EXPECT_EQ(working_crs(wgs84, {-0.2, 51.4, -0.1, 51.6}).text(), "EPSG:32630");
    EXPECT_EQ(working_crs(wgs84, {2.3, 48.8, 2.4, 48.9}).text(), "EPSG:32631");
    EXPECT_EQ(working_crs(wgs84, {151.2, -33.9, 151.3, -33.8}).text(), "EPSG:32756");
    const Crs feet = working_crs(Crs::from_text("EPSG:2263"), {985000, 200000, 986000, 201000});
    EXPECT_EQ(feet.metres_per_unit(), 1.0);
    EXPECT_EQ(feet.text(), "EPSG:26918"); // NAD83 / UTM zone 18N: New York on its own datum
}

TEST(WorkingCrs, RefusesMetresDeclaredAsDegrees) {
    const std::string message = message_of<base::InputError>([] {
        static_cast<void>(
            working_crs(Crs::from_text("EPSG:4326"), {530000, 180000, 531000, 181000}));
    });
    EXPECT_NE(message.find("EPSG:4326"), std::string::npos) << message;
}

TEST(TransformPoints, AgreesWithCs2cs) {
    const Transform transform(Crs::from_text("EPSG:4326"), Crs::from_text("EPSG:32631"));
    EXPECT_FALSE(transform.is_identity());
    std::vector<base::Point2> points{{2.3488, 48.8534}}; // longitude first
    ASSERT_TRUE(transform.apply(points));
    EXPECT_NEAR(points[0].x, 452230.0925, 1e-3);  // cs2cs +proj=longlat +ellps=WGS84 +to
    EXPECT_NEAR(points[0].y, 5411363.5892, 1e-3); // +proj=utm +zone=31 +ellps=WGS84
}

TEST(TransformPoints, LeavesEqualAndUnknownSystemsAlone) {
    EXPECT_TRUE(Transform(Crs(), Crs::from_text("EPSG:27700")).is_identity());
    EXPECT_TRUE(
        Transform(Crs::from_text("EPSG:27700"), Crs::from_text("EPSG:27700")).is_identity());
}

TEST(TransformPoints, TellsWhatCannotBe) {
    const Transform transform(Crs::from_text("EPSG:4326"), Crs::from_text("EPSG:32631"));
    std::vector<base::Point2> points{{2.0, 48.0}, {2.0, 500.0}};
    EXPECT_FALSE(transform.apply(points));
    const Crs local = Crs::from_text("LOCAL_CS[\"site\",UNIT[\"metre\",1]]");
    EXPECT_THROW(Transform(local, Crs::from_text("EPSG:27700")), base::InputError);
}

TEST(GroundLengths, AgreeWithGeod) {
    EXPECT_NEAR(ground("EPSG:27700", {{530000, 180000}, {530300, 180400}, {531000, 180400}}),
                500.095377 + 700.132406, kGeodText);
    EXPECT_NEAR(ground("EPSG:27700", {{100000, 800000}, {100000, 801000}}), 999.295224, kGeodText);
    EXPECT_NEAR(ground("EPSG:4326", {{-0.12, 51.5}, {-0.119, 51.501}, {-0.1, 51.501}}),
                131.149485 + 1319.340938, kGeodText);
    EXPECT_NEAR(ground("EPSG:2263", {{985000, 200000}, {986000, 200000}}), 304.801328, kGeodText);
    EXPECT_NEAR(ground("EPSG:25832", {{500000, 5500000}, {500000, 5501000}}), 1000.400160,
                kGeodText);
    // 1000 units of web Mercator at 51.5 degrees north are 624 m, not 1000 m.
    EXPECT_NEAR(ground("EPSG:3857", {{0, 6710000}, {1000, 6710000}}), 623.811499, kGeodText);
}

TEST(GroundLengths, ArePlanarWithoutAPlaceOnTheEarth) {
    EXPECT_EQ(GroundLength(Crs()).of(base::Polyline{{0, 0}, {3, 4}}).value(), 5.0);
    EXPECT_NEAR(ground("LOCAL_CS[\"site\",UNIT[\"foot\",0.3048]]", {{0, 0}, {30, 40}}), 15.24,
                1e-12);
    EXPECT_EQ(GroundLength(Crs()).of({}).value(), 0.0);
}

TEST(GroundLengths, FallBackToTheDrawingOutsideTheProjection) {
    // No point of the Earth has these national-grid coordinates.
    const double length = ground("EPSG:27700", {{1e12, 1e12}, {1e12 + 3000, 1e12 + 4000}});
    EXPECT_DOUBLE_EQ(length, 5000.0);
    EXPECT_DOUBLE_EQ(ground("EPSG:4326", {{0, 100}, {3, 104}}), 5.0); // no such latitude
}

// Airy's projection has no formula for the way back (PROJ, "airy"): that is no matter of a point
// that lies too far out.
TEST(GroundLengths, AreNoneWhereTheSystemHasNoWayToTheEarth) {
    const Crs airy =
        Crs::from_text("+proj=airy +lat_b=50 +lat_0=52 +datum=WGS84 +units=m +type=crs");
    const GroundLength lengths(airy);
    EXPECT_THROW(static_cast<void>(lengths.of(std::array<base::Point2, 2>{{{0, 0}, {3, 4}}})),
                 base::InputError);
}

} // namespace loopwalk::gis::test
