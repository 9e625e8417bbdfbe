// Names of fields in many spellings: what each means was written by hand.
#include "loopwalk/draft/guess.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace loopwalk::draft {
namespace {

using base::AssetLayer;

struct NameCase {
    const char* field;
    std::vector<const char*> values;
    const char* means; ///< "" nothing that is stated
};

void PrintTo(const NameCase& name, std::ostream* stream) {
    *stream << name.field;
}

const catalogue::Catalogue& built_in() {
    static const catalogue::Catalogue catalogue =
        catalogue::parse_catalogue(catalogue::built_in_text());
    return catalogue;
}

/// What is stated of a field, as "field" or "field in unit", in a layer that holds it beside an id.
std::string stated(const char* layer, Shape shape, const char* id, const NameCase& name) {
    Profiler profiler("d", layer, "",
                      {{id, gis::FieldKind::text}, {name.field, gis::FieldKind::text}});
    constexpr std::size_t kRows = 12;
    for (std::size_t i = 0; i < kRows; ++i) {
        profiler.next(shape, 0.0);
        profiler.value(0, "x" + std::to_string(i));
        profiler.value(1, name.values[i % name.values.size()]);
    }
    const Draft draft = guess({profiler.finish()}, built_in());
    for (const LayerGuess& found : draft.layers) {
        for (const FieldGuess& field : found.fields) {
            if (field.name == name.field && field.confidence != Confidence::unsure) {
                return field.field +
                       (field.unit == nullptr ? "" : " in " + std::string(field.unit->name));
            }
        }
    }
    return {};
}

class ColumnFields : public testing::TestWithParam<NameCase> {};
TEST_P(ColumnFields, MeanWhatTheySay) {
    EXPECT_EQ(stated("lamp_columns", Shape::point, "column_no", GetParam()), GetParam().means);
}
INSTANTIATE_TEST_SUITE_P(
    Names, ColumnFields,
    testing::Values(
        NameCase{"COLHEIGHT", {"5", "6", "8"}, "height_m"},
        NameCase{"COL_HGT", {"5", "6", "8"}, "height_m"},
        NameCase{"MountingHeight", {"5", "6", "8"}, "height_m"},
        NameCase{"HEIGHT", {"500", "600", "800"}, "height_m in cm"},
        NameCase{"HEIGHT", {"18", "25", "30"}, "height_m in ft"},
        NameCase{"Masthöhe", {"4,5", "6,0"}, "height_m"},
        NameCase{"CIRCUITWAT", {"24", "36"}, "load_w"}, NameCase{"LOAD_KVA", {"24", "36"}, ""},
        NameCase{"PWR_FACTOR", {"0.95", "0.9"}, "power_factor"},
        NameCase{"cosphi", {"0.95", "0.9"}, "power_factor"},
        NameCase{"FUSERATING", {"6", "10"}, "fuse_a"},
        NameCase{"FUSE_AMPS", {"6A", "10 A"}, "fuse_a"},
        NameCase{"FUSE_RATIN", {"6.31", "11.7"}, ""},
        NameCase{"fuse type", {"BS 88-2", "gG"}, "fuse_type"},
        NameCase{"Smeltveiligheid", {"gG", "gG"}, "fuse_type"},
        NameCase{"EARTH_SYS", {"TNCS", "TT"}, "earthing"},
        NameCase{"EARTHED_BY", {"Mr Low", "Mr High"}, ""},
        NameCase{"CCT_REF", {"A", "B"}, "circuit"},
        NameCase{"PHASE", {"Red", "Yellow", "Blue"}, "phase"},
        NameCase{"PHASE", {"design", "build"}, ""},
        NameCase{"SWITCHING", {"Photocell", "PECU"}, "control"},
        NameCase{"STATUS_OLD", {"in service", "removed"}, ""},
        NameCase{"Tail Length", {"7", "9.5"}, "tail_m"}, NameCase{"RCD", {"30", "30"}, "rcd_ma"},
        NameCase{"INSTALLED", {"2001-02-03", "1999-05-06"}, ""},
        NameCase{"COMMENTS", {"leaning", "painted"}, ""},
        NameCase{"Lichtpunkthöhe", {"4", "6"}, "height_m"},
        NameCase{"puissance_W", {"40", "60"}, "load_w"},
        NameCase{"wysokosc", {"6", "9"}, "height_m"}, NameCase{"korkeus", {"6", "9"}, "height_m"},
        NameCase{"straatnaam", {"Eikenlaan", "Beukendreef"}, "road"},
        NameCase{"gatunamn", {"Björkvägen", "Almgatan"}, "road"}));

class SupplyFields : public testing::TestWithParam<NameCase> {};
TEST_P(SupplyFields, MeanWhatTheySay) {
    EXPECT_EQ(stated("feeder_pillars", Shape::point, "pillar_no", GetParam()), GetParam().means);
}
INSTANTIATE_TEST_SUITE_P(
    Names, SupplyFields,
    testing::Values(NameCase{"ZE_OHMS", {"0.2", "0.35"}, "ze_ohm"},
                    NameCase{"LOOP_IMP", {"0.2", "0.35"}, "ze_ohm"},
                    NameCase{"PSCC", {"1.2", "0.9"}, "pscc_ka"},
                    NameCase{"PFC", {"1200", "900"}, "pscc_ka in A"},
                    NameCase{"fault_current_ka", {"1.2", "0.9"}, "pscc_ka"},
                    NameCase{"VOLTS", {"230", "240"}, "voltage_v"},
                    NameCase{"VOLTS", {"400", "415"}, ""},
                    NameCase{"VOLTAGE_KV", {"0.23", "0.24"}, "voltage_v in kV"},
                    NameCase{"TX_KVA", {"315", "500"}, "transformer_kva"},
                    NameCase{"Netzform", {"TN-C-S", "TT"}, "earthing"},
                    NameCase{"MAIN_FUSE_A", {"60", "100"}, "fuse_a"},
                    NameCase{"ROD_RES", {"12", "20"}, "electrode_ohm"},
                    NameCase{"TYPE", {"Feeder Pillar", "Section Pillar"}, "kind"}));

} // namespace
} // namespace loopwalk::draft
