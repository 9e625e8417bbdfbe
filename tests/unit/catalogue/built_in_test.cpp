// Promises about the tables that come with the program. Single values against published sources:
// tests/oracle.
#include "loopwalk/base/text.hpp"
#include "loopwalk/catalogue/catalogue.hpp"
#include "loopwalk/catalogue/curve.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <set>
#include <sstream>

namespace loopwalk::catalogue {
namespace {

const Catalogue& built_in() {
    static const Catalogue catalogue = parse_catalogue(built_in_text());
    return catalogue;
}

const CableType& cable(std::string_view name) {
    const auto id = built_in().find_cable(name);
    EXPECT_TRUE(id.has_value()) << name;
    return built_in().cable(id.value());
}

const FuseType& fuse(std::string_view name) {
    const auto id = built_in().find_fuse(name);
    EXPECT_TRUE(id.has_value()) << name;
    return built_in().fuse(id.value());
}

std::string read_file(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream content;
    content << file.rdbuf();
    return content.str();
}

TEST(BuiltIn, IsTheFilesByteForByte) {
    const std::string folder = LOOPWALK_SOURCE_DIR "/src/catalogue/data/";
    EXPECT_EQ(built_in_text().cables, read_file(folder + "cables.csv"));
    EXPECT_EQ(built_in_text().devices, read_file(folder + "devices.csv"));
    EXPECT_EQ(built_in_text().curves, read_file(folder + "curves.csv"));
}

/// Fields of a line, for files without quotes inside quotes.
std::vector<std::string> split(const std::string& line) {
    std::vector<std::string> fields(1);
    bool quoted = false;
    for (const char c : line) {
        if (c == '"') {
            quoted = !quoted;
        } else if (c == ',' && !quoted) {
            fields.emplace_back();
        } else {
            fields.back() += c;
        }
    }
    return fields;
}

TEST(BuiltIn, EveryRowNamesSourceAndConfidence) {
    const std::set<std::string> grades{"two-sources", "one-source", "derived", "from-memory"};
    const CatalogueText& text = built_in_text();
    for (const std::string* file : {&text.cables, &text.devices, &text.curves}) {
        std::istringstream lines(*file);
        std::string line;
        std::getline(lines, line);
        const std::vector<std::string> headings = split(line);
        ASSERT_EQ(headings.back(), "source");
        ASSERT_EQ(headings[headings.size() - 2], "confidence");
        while (std::getline(lines, line)) {
            const std::vector<std::string> fields = split(line);
            ASSERT_EQ(fields.size(), headings.size()) << line;
            EXPECT_GT(fields.back().size(), 10U) << line;
            EXPECT_TRUE(grades.contains(fields[fields.size() - 2])) << line;
        }
    }
}

TEST(BuiltIn, HoldsTheKindsOfCable) {
    std::set<CableUse> uses;
    std::set<EarthPath> paths;
    for (const CableType& type : built_in().cables()) {
        uses.insert(type.use);
        paths.insert(type.earth_path);
    }
    EXPECT_EQ(uses.size(), 4U);
    EXPECT_EQ(paths, (std::set{EarthPath::armour, EarthPath::cpc, EarthPath::armour_and_cpc,
                               EarthPath::neutral}));
    EXPECT_EQ(cable("SWA XLPE Cu 2x6").earth_path, EarthPath::armour);
    EXPECT_EQ(cable("SWA XLPE Cu 3x6").earth_path, EarthPath::cpc);
    EXPECT_EQ(cable("SWA XLPE Cu 3x6 armour").earth_path, EarthPath::armour);
    EXPECT_EQ(cable("SWA XLPE Cu 3x6 both").earth_path, EarthPath::armour_and_cpc);
    EXPECT_EQ(cable("SWA PVC Cu 4x16").earth_path, EarthPath::armour);
    EXPECT_EQ(cable("SWA XLPE Cu 5x6").earth_path, EarthPath::cpc);
    EXPECT_EQ(cable("Concentric CNE Al 25").earth_path, EarthPath::neutral);
    EXPECT_EQ(cable("Concentric split Cu 4").earth_path, EarthPath::cpc);
    EXPECT_EQ(cable("Main CNE Al 185").use, CableUse::main);
    EXPECT_EQ(cable("Flex 3x1.5").use, CableUse::tail);
}

TEST(BuiltIn, HotTemperaturesFollowTheInsulation) {
    for (const CableType& type : built_in().cables()) {
        if (type.use != CableUse::circuit) {
            continue;
        }
        const bool is_xlpe = type.name.find("XLPE") != std::string::npos;
        const bool is_paper = type.name.starts_with("PILC"); // BS 6480: 80 C, its sheath 70 C
        EXPECT_EQ(type.line.hot.value(), is_xlpe ? 90.0 : is_paper ? 80.0 : 70.0) << type.name;
        EXPECT_EQ(type.armour.value().hot.value(), is_xlpe    ? 80.0
                                                   : is_paper ? 70.0
                                                              : 60.0)
            << type.name;
    }
}

TEST(BuiltIn, ThickerIsLowerInResistanceAndCarriesMore) {
    for (const char* family : {"SWA XLPE Cu 2x", "SWA XLPE Cu 3x", "SWA XLPE Cu 4x",
                               "SWA PVC Cu 2x", "SWA PVC Cu 3x", "SWA PVC Cu 4x"}) {
        const CableType* thinner = nullptr;
        for (const char* size :
             {"1.5", "2.5", "4", "6", "10", "16", "25", "35", "50", "70", "95"}) {
            const CableType& type = cable(std::string(family) + size);
            if (thinner) {
                EXPECT_LT(type.line.r20, thinner->line.r20) << type.name;
                EXPECT_LT(type.armour->r20, thinner->armour->r20) << type.name;
                EXPECT_GT(*type.armour->csa, *thinner->armour->csa) << type.name;
                EXPECT_GT(*type.ampacity, *thinner->ampacity) << type.name;
            }
            thinner = &type;
        }
    }
}

TEST(BuiltIn, FiveCoresAreFourAndOneMore) {
    for (const char* size : {"10", "16", "25", "35", "50", "70", "95"}) {
        const CableType& four = cable(std::string("SWA XLPE Cu 4x") + size);
        for (const char* variant : {"", " armour", " both"}) {
            const CableType& five = cable(std::string("SWA XLPE Cu 5x") + size + variant);
            EXPECT_EQ(five.cores, 5);
            EXPECT_EQ(five.line.r20, four.line.r20) << five.name;
            EXPECT_EQ(five.neutral.value().r20, four.neutral.value().r20) << five.name;
            EXPECT_EQ(five.armour.value().r20, four.armour.value().r20) << five.name;
            EXPECT_EQ(five.armour->csa, four.armour->csa) << five.name;
            EXPECT_EQ(five.ampacity, four.ampacity) << five.name;
            EXPECT_EQ(five.cpc.has_value(), std::string_view(variant) != " armour");
            if (five.cpc) {
                EXPECT_EQ(five.cpc->r20, five.line.r20) << five.name;
                EXPECT_EQ(five.cpc->csa, five.line.csa) << five.name;
            }
        }
        EXPECT_EQ(cable(std::string("SWA XLPE Cu 5x") + size).earth_path, EarthPath::cpc);
        EXPECT_EQ(cable(std::string("SWA XLPE Cu 5x") + size + " armour").earth_path,
                  EarthPath::armour);
        EXPECT_EQ(cable(std::string("SWA XLPE Cu 5x") + size + " both").earth_path,
                  EarthPath::armour_and_cpc);
    }
}

/// A blank area leaves the heat of every cable of unknown type open: the four-core cable's is the
/// least that a five-core one has.
TEST(BuiltIn, EveryCircuitCableTellsWhatItsEarthPathSurvives) {
    for (const CableType& type : built_in().cables()) {
        if (type.use != CableUse::circuit) {
            continue;
        }
        EXPECT_TRUE(type.line.csa && type.line.k) << type.name;
        EXPECT_TRUE(type.armour.value().csa && type.armour->k) << type.name;
        EXPECT_TRUE(!type.cpc || (type.cpc->csa && type.cpc->k)) << type.name;
        EXPECT_TRUE(type.ampacity.has_value()) << type.name;
    }
    for (const char* size : {"1.5", "2.5", "4", "6"}) {
        const CableType& four = cable(std::string("SWA XLPE Cu 4x") + size);
        const CableType& five = cable(std::string("SWA XLPE Cu 5x") + size + " armour");
        EXPECT_EQ(five.armour->csa, four.armour->csa) << size;
        EXPECT_LT(five.armour->r20, four.armour->r20) << size;
    }
}

/// The sheath of lead as a tube: with 214 nohm m the most it has is that of 0.8 to 1.6 mm round
/// the cores, and the least less than half of it. A thick cable has more lead round it.
TEST(BuiltIn, LeadSheathsAreRanges) {
    int seen = 0;
    for (const CableType& type : built_in().cables()) {
        if (!type.name.starts_with("PILC")) {
            continue;
        }
        ++seen;
        const Conductor& sheath = type.armour.value();
        ASSERT_TRUE(sheath.is_range()) << type.name;
        EXPECT_LT(*sheath.r20_low, sheath.r20 * 0.5) << type.name;
        const double area = 214.0 / sheath.r20.value();
        EXPECT_NEAR(area, (*sheath.csa).value(), 1.0) << type.name;
        const double bare = 2.0 * std::sqrt((*type.line.csa).value() * type.cores / 3.14159);
        EXPECT_GT(area, 3.14159 * bare * 0.8) << type.name;
        EXPECT_EQ(type.line.r20, type.neutral.value().r20) << type.name;
        EXPECT_FALSE(type.line.is_range()) << type.name;
    }
    EXPECT_EQ(seen, 15);
}

TEST(BuiltIn, SlowEdgesRiseWithTheRating) {
    for (const FuseType& type : built_in().fuses()) {
        for (const double limit : {5.0, 0.4, 0.1}) {
            base::Maybe<Ampere> smaller;
            for (const FuseRating& rating : type.ratings) {
                const base::Maybe<Ampere> current = slow_current(rating.slow, Second(limit));
                if (current && smaller) {
                    EXPECT_GT(*current, *smaller) << type.name << " " << rating.rating.value();
                }
                if (current) {
                    EXPECT_GT(*current, rating.rating) << type.name;
                    smaller = current;
                }
            }
        }
    }
}

TEST(BuiltIn, FastEdgesLieBelowTheSlowOnes) {
    for (const FuseType& type : built_in().fuses()) {
        for (const FuseRating& rating : type.ratings) {
            for (const CurvePoint& fast : rating.fast) {
                const OperatingTime slow = slow_time(rating.slow, fast.current);
                if (slow.state == TimeState::clears && !slow.is_bound_only) {
                    EXPECT_LE(fast.time, slow.time) << type.name << " " << rating.rating.value();
                }
            }
        }
    }
}

TEST(BuiltIn, CurvesOfTheStandardStayWithinItsGates) {
    // The gates of IEC 60269-1 hold for every gG link, so for those of BS 88-2 too.
    const FuseType& gates = fuse("gG");
    for (const FuseRating& rating : fuse("BS 88-2").ratings) {
        const FuseRating* gate = gates.rating(rating.rating);
        if (!gate || rating.rating < Ampere(16.0)) {
            continue;
        }
        EXPECT_LE(*slow_current(rating.slow, Second(5)), *slow_current(gate->slow, Second(5)));
        EXPECT_LE(*slow_current(rating.slow, Second(0.4)), *slow_current(gate->slow, Second(0.4)));
        EXPECT_EQ(*slow_current(rating.slow, Second(0.1)), *slow_current(gate->slow, Second(0.1)));
    }
}

TEST(BuiltIn, EveryTypeSaysWhatItIs) {
    // BS 88-2 and gG are general purpose; semi-enclosed fuses and breakers limit no current.
    for (const FuseType& type : built_in().fuses()) {
        const bool is_breaker = type.name.starts_with("MCB");
        EXPECT_EQ(type.kind, is_breaker ? FuseKind::breaker : FuseKind::fuse) << type.name;
        EXPECT_EQ(type.is_gg, type.name == "BS 88-2" || type.name == "gG") << type.name;
        EXPECT_EQ(type.is_current_limiting, !is_breaker && type.name != "BS 3036") << type.name;
    }
    // A published guide: only 15 and 20 A of BS 1361 share a size.
    const FuseType& bs1361 = fuse("BS 1361");
    EXPECT_EQ(bs1361.rating(Ampere(15))->holder, bs1361.rating(Ampere(20))->holder);
    EXPECT_NE(bs1361.rating(Ampere(5))->holder, bs1361.rating(Ampere(15))->holder);
    EXPECT_NE(bs1361.rating(Ampere(30))->holder, bs1361.rating(Ampere(20))->holder);
}

TEST(BuiltIn, CurvesOfBreakersStep) {
    const FuseRating& d10 = *fuse("MCB D").rating(Ampere(10));
    EXPECT_EQ(*slow_current(d10.slow, Second(5)), Ampere(100));
    EXPECT_EQ(*slow_current(d10.slow, Second(0.4)), Ampere(200));
    EXPECT_EQ(slow_time(d10.slow, Ampere(150)).time, Second(5));
    EXPECT_EQ(slow_time(d10.slow, Ampere(200)).time, Second(0.1));
}

TEST(BuiltIn, RatingsWithoutACurveAreBracketed) {
    // BS 88-3 tabulates 5 and 16 A, but not the 6 and 10 A that columns are fused with.
    const FuseType& type = fuse("BS 88-3");
    for (const double rated : {6.0, 10.0}) {
        ASSERT_NE(type.rating(Ampere(rated)), nullptr);
        const SlowEdges edges = slow_edges(type, Ampere(rated));
        EXPECT_FALSE(edges.is_own);
        EXPECT_EQ(edges.late, &type.rating(Ampere(16))->slow);
        EXPECT_EQ(edges.early, &type.rating(Ampere(5))->slow);
    }
    const SlowEdges edges = slow_edges(type, Ampere(25));
    EXPECT_EQ(edges.late, &type.rating(Ampere(32))->slow);
    EXPECT_EQ(edges.early, &type.rating(Ampere(20))->slow);
}

} // namespace
} // namespace loopwalk::catalogue
