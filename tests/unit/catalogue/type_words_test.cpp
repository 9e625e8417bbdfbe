#include "loopwalk/base/text.hpp"
#include "loopwalk/catalogue/type_words.hpp"

#include <gtest/gtest.h>

namespace loopwalk::catalogue {
namespace {

const Catalogue& built_in() {
    static const Catalogue catalogue = parse_catalogue(built_in_text());
    return catalogue;
}

/// "sure: A" or "open: A, B".
std::string cable(const char* text) {
    const TypeGuess guess = guess_cable(text, built_in());
    return (guess.is_sure ? "sure: " : "open: ") + base::listed(guess.names, 6);
}
std::string fuse(const char* text) {
    const FuseGuess guess = guess_fuse(text, built_in());
    return (guess.type.is_sure ? "sure: " : "open: ") + base::listed(guess.type.names, 6) +
           (guess.rating_a ? " " + base::number_text(*guess.rating_a) + " A" : "");
}

TEST(CableWords, ReadsSizesCoresAndMakes) {
    const CableWords words = read_cable_words("2 Core 6 sq.mm XLPE/SWA/PVC Copper");
    EXPECT_EQ(words.csa_mm2, 6.0);
    EXPECT_EQ(words.size_as, SizeAs::mm2);
    EXPECT_EQ(words.cores, 2);
    EXPECT_EQ(words.insulation, Insulation::xlpe); // PVC is the sheath
    EXPECT_EQ(words.metal, Metal::copper);
    EXPECT_EQ(words.construction, Construction::steel_wire_armour);
    EXPECT_TRUE(words.left_over.empty());
    EXPECT_FALSE(words.contradicts);
}

TEST(CableWords, ReadsTheUsualSpellings) {
    for (const char* text :
         {"6mm 2c swa", "2x6 SWA", "2C 6MM2 SWA", "6.0mm² twin SWA", "SWA 2 x 6mm",
          "2-core 6 mm steel wire armoured", "6 mm sq 2 core S.W.A SWA"}) {
        const CableWords words = read_cable_words(text);
        EXPECT_EQ(words.csa_mm2, 6.0) << text;
        EXPECT_EQ(words.cores, 2) << text;
        EXPECT_EQ(words.construction, Construction::steel_wire_armour) << text;
    }
    EXPECT_EQ(read_cable_words("2,5mm").csa_mm2, 2.5);
    EXPECT_EQ(read_cable_words("3G2,5").cores, 3);
    EXPECT_EQ(read_cable_words("16").size_as, SizeAs::number);
}

TEST(CableWords, ConvertsImperialSizes) {
    // 0.0225 sq in * 645.16; 7 wires of 0.036 in: 7 * pi/4 * (0.036 * 25.4)^2.
    EXPECT_NEAR(*read_cable_words(".0225 3C").csa_mm2, 14.516, 1e-3);
    EXPECT_EQ(read_cable_words(".0225 3C").cores, 3);
    EXPECT_NEAR(*read_cable_words("7/.036 twin").csa_mm2, 4.597, 1e-3);
    EXPECT_NEAR(*read_cable_words("0.06 sq in PILC").csa_mm2, 38.71, 1e-2);
    EXPECT_EQ(read_cable_words(".0225 3C").size_as, SizeAs::imperial);
}

TEST(CableWords, TellsWhatItDoesNotUnderstand) {
    EXPECT_EQ(read_cable_words("6mm 2c SWA glanded both ends").left_over,
              (std::vector<std::string>{"glanded", "both", "ends"}));
    EXPECT_TRUE(read_cable_words("6mm 10mm SWA").contradicts);
    EXPECT_TRUE(read_cable_words("2c 3c 6mm").contradicts);
    EXPECT_FALSE(read_cable_words("unknown").csa_mm2);
}

TEST(GuessCable, IsSureOnlyWhereTheTextSaysAll) {
    EXPECT_EQ(cable("swa xlpe cu 2x6"), "sure: SWA XLPE Cu 2x6");
    EXPECT_EQ(cable("6mm 2c XLPE/SWA/PVC"), "sure: SWA XLPE Cu 2x6");
    EXPECT_EQ(cable("2c 6mm2 PVC/SWA/PVC"), "sure: SWA PVC Cu 2x6");
    EXPECT_EQ(cable("4c 10mm XLPE SWA"), "open: SWA XLPE Cu 4x10"); // aluminium begins here
    EXPECT_EQ(cable("4c 10mm Cu XLPE SWA"), "sure: SWA XLPE Cu 4x10");
    EXPECT_EQ(cable("6mm 2c SWA"), "open: SWA XLPE Cu 2x6, SWA PVC Cu 2x6");
    EXPECT_EQ(cable("2x6 XLPE"), "open: SWA XLPE Cu 2x6, Concentric split Cu 6"); // or no armour
    EXPECT_EQ(cable("2c 6 XLPE SWA"), "open: SWA XLPE Cu 2x6");                   // 6 what
    EXPECT_EQ(cable("3x2.5 XLPE SWA"),
              "open: SWA XLPE Cu 3x2.5, SWA XLPE Cu 3x2.5 armour, SWA XLPE Cu 3x2.5 both");
    EXPECT_EQ(cable("6mm 2c XLPE/SWA/PVC old"), "open: SWA XLPE Cu 2x6");
    EXPECT_EQ(cable("25mm CNE Al"), "open: Concentric CNE Al 25"); // cores not said
    EXPECT_EQ(cable("2.5 T&E"), "open: Flat twin and earth 2.5");
    EXPECT_EQ(cable("2.5mm twin & earth"), "sure: Flat twin and earth 2.5");
    EXPECT_EQ(cable("10mm split concentric Cu"), "open: Concentric split Cu 10");
}

TEST(GuessCable, GivesNoneWhereNoneFits) {
    EXPECT_EQ(cable(".0225 3C"), "open: ");
    EXPECT_EQ(cable("2x6 NYY"), "open: "); // unarmoured: the catalogue has none
    EXPECT_EQ(cable("N/K"), "open: ");
    EXPECT_NE(guess_cable(".0225 3C", built_in()).reason.find("between 10 and 16 mm2"),
              std::string::npos);
}

TEST(GuessCable, KnowsOldCablesAsTheyAreWritten) {
    for (const char* text :
         {"twin .0225 PILC", "0.0225 sq in 2 core PILC", ".0225 twin lead", "7/.064 twin PILC",
          "7/064 2c PILCSWA", "2C 7/0.064 Cu PILC/SWA", "2c .0225 sq. inch paper lead covered",
          "two core 0.0225 square inch PILC STA", "imperial .0225 2 core PILC"}) {
        EXPECT_EQ(cable(text), "sure: PILC Cu 2x.0225") << text;
    }
    EXPECT_EQ(cable("7/.036 PILC"), "open: PILC Cu 2x.007"); // cores not said
    EXPECT_EQ(cable("7/036 twin PILC"), "sure: PILC Cu 2x.007");
    EXPECT_EQ(cable("7/.029 twin lead"), "sure: PILC Cu 2x.0045");
    EXPECT_EQ(cable("7/.044 2c PILC"), "sure: PILC Cu 2x.01"); // 6.87 mm2, called .01: 6.45
    EXPECT_EQ(cable("7/.052 twin PILC"), "sure: PILC Cu 2x.0145");
    EXPECT_EQ(cable(".1 4c PILC"), "open: PILC Cu 4x.1"); // aluminium from .04 on
    EXPECT_EQ(cable("4c 0.15 sq in Cu PILC"), "sure: PILC Cu 4x.15");
    EXPECT_EQ(cable("4 core .2 Cu PILCSWA"), "sure: PILC Cu 4x.2");
    EXPECT_EQ(cable("7/.036 twin"), "open: PILC Cu 2x.007"); // or rubber or PVC
    EXPECT_EQ(cable("25mm 4c Cu PILC"), "open: ");           // metric, not .04 sq in
}

TEST(GuessCable, KnowsFiveCores) {
    for (const char* text : {"5c 16mm Cu XLPE SWA", "16mm 5 core Cu XLPE/SWA",
                             "five core 16mm2 "
                             "copper XLPE SWA"}) {
        EXPECT_EQ(cable(text),
                  "open: SWA XLPE Cu 5x16, SWA XLPE Cu 5x16 armour, SWA XLPE Cu 5x16 both")
            << text;
    }
    EXPECT_EQ(cable("5c 16mm SWA"),
              "open: SWA XLPE Cu 5x16, SWA XLPE Cu 5x16 armour, SWA XLPE Cu 5x16 both");
}

TEST(GuessCable, SeesSizesTenTimesOff) {
    const TypeGuess guess = guess_cable("1.6mm 2c SWA", built_in());
    EXPECT_EQ(cable("1.6mm 2c SWA"), "open: SWA XLPE Cu 2x16, SWA PVC Cu 2x16");
    EXPECT_NE(guess.reason.find("16 mm2 is: ten times off"), std::string::npos) << guess.reason;
    EXPECT_EQ(cable("60mm 2c XLPE SWA"), "open: SWA XLPE Cu 2x6");
    // 25 and 2.5 are both made: nothing to see.
    EXPECT_EQ(cable("25mm 2c XLPE SWA"), "open: SWA XLPE Cu 2x25");
}

TEST(GuessCable, EveryRowOfTheCatalogueIsFoundByItsOwnWords) {
    for (const CableType& row : built_in().cables()) {
        const CableWords words = read_cable_words(row.name);
        ASSERT_TRUE(words.csa_mm2) << row.name;
        EXPECT_NEAR(*words.csa_mm2, (*row.line.csa).value(), 1e-9) << row.name;
        EXPECT_FALSE(words.contradicts) << row.name;
    }
}

TEST(GuessFuse, IsSureOfNamedStandardsAlone) {
    EXPECT_EQ(fuse("BS 88-2"), "sure: BS 88-2");
    EXPECT_EQ(fuse("BS88-2 10A"), "sure: BS 88-2 10 A");
    EXPECT_EQ(fuse("BS 88 part 2 gG 10 Amp"), "sure: BS 88-2 10 A");
    EXPECT_EQ(fuse("BS 1361 15A"), "sure: BS 1361 15 A");
    EXPECT_EQ(fuse("3036 5A fuse"), "sure: BS 3036 5 A");
    EXPECT_EQ(fuse("BS 88-3:2010 16A"), "sure: BS 88-3 16 A");
    EXPECT_EQ(fuse("gG 10A"), "sure: gG 10 A");
    EXPECT_EQ(fuse("6A MCB type B"), "sure: MCB B 6 A");
    EXPECT_EQ(fuse("C16"), "sure: MCB C 16 A");
    EXPECT_EQ(fuse("solid link"), "sure: none");
    EXPECT_EQ(fuse("Isolator"), "sure: none");
    EXPECT_EQ(fuse("none"), "sure: none");
}

TEST(GuessFuse, LeavesOpenWhatTheTradeSaysLoosely) {
    EXPECT_EQ(fuse("HRC 10A"), "open: BS 88-2, BS 88-3, gG 10 A");
    EXPECT_EQ(fuse("BS88 6A"), "open: BS 88-2, BS 88-3 6 A");
    EXPECT_EQ(fuse("rewireable 5A"), "open: BS 3036 5 A");
    EXPECT_EQ(fuse("MCB 10A"), "open: MCB B, MCB C, MCB D 10 A");
    EXPECT_EQ(fuse("HRC fuse link 10A"), "open: BS 88-2, BS 88-3, gG 10 A");
    EXPECT_EQ(fuse("10A"), "open:  10 A");
    EXPECT_EQ(fuse("BS 88-2 red spot"), "open: BS 88-2");
    EXPECT_EQ(fuse("BS 88-2 10A 16A"), "open: BS 88-2"); // which
    EXPECT_EQ(fuse("BS 88-2 BS 1361"), "open: BS 88-2, BS 1361");
    EXPECT_EQ(fuse("rewireable MCB"), "open: BS 3036, MCB B, MCB C, MCB D");
    EXPECT_EQ(fuse("?"), "open: ");
}

} // namespace
} // namespace loopwalk::catalogue
