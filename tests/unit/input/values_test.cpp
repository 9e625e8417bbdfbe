#include "input_fixture.hpp"

namespace loopwalk::input {
namespace {

using base::Maybe;
using base::Ohm;
using base::Watt;

TEST_F(InputTest, ReadsEveryAttributeOfAColumn) {
    plain_cables();
    layer(AssetLayer::columns,
          {{point(100, 100),
            R"("column_id":" C1 ","kind":"Sign","road":"R","area":"W1","owner":"DISTRIBUTOR",)"
            R"("feed":"pillar","circuit":7,"phase":"l2","control":" group switched ",)"
            R"("load_w":"35.5","power_factor":0.9,"fuse_type":"bs 88-2","fuse_a":6,)"
            R"("fuse_breaking_ka":16.5,"poles":2,"rcd_ma":0,"limit_s":0.4,"tail_type":"swa 6",)"
            R"("tail_m":0,"height_m":8,"earthing":"tn-c-s","electrode_ohm":21,)"
            R"("status":"Proposed")"}});
    const ReadResult result = read();
    const model::Column& c = result.layers.columns[0];
    EXPECT_EQ(result.layers.id_text(c.id), "C1");
    EXPECT_EQ(result.layers.id_text(c.circuit), "7");
    EXPECT_EQ(result.layers.id_text(c.area), "W1");
    EXPECT_EQ(c.kind, model::ColumnKind::sign);
    EXPECT_EQ(c.owner, model::Owner::distributor);
    EXPECT_EQ(c.feed, model::StatedFeed::pillar);
    EXPECT_EQ(c.phase, model::Phase::l2);
    EXPECT_EQ(c.control, model::Control::group_switched);
    EXPECT_EQ(c.poles, model::Poles::two);
    EXPECT_EQ(c.earthing, model::Earthing::tn_c_s);
    EXPECT_EQ(c.status, model::Status::proposed);
    EXPECT_EQ(c.load, Maybe(Watt(35.5)));
    EXPECT_EQ(c.power_factor, Maybe(base::Number(0.9)));
    EXPECT_EQ(c.fuse.word, model::FuseRecord::Word::known);
    EXPECT_EQ(c.fuse.type, base::FuseTypeId(0));
    EXPECT_EQ(c.fuse.rating, Maybe(base::Ampere(6.0)));
    EXPECT_EQ(c.breaking_ka, Maybe(base::Number(16.5)));
    EXPECT_EQ(c.rcd_ma, Maybe(base::Number(0.0)));
    EXPECT_EQ(c.limit, Maybe(base::Second(0.4)));
    EXPECT_EQ(c.tail_type.type, base::CableTypeId(0));
    EXPECT_EQ(c.tail, Maybe(base::Metre(0.0)));
    EXPECT_EQ(c.height, Maybe(base::Metre(8.0)));
    EXPECT_EQ(c.electrode, Maybe(Ohm(21.0)));
    EXPECT_TRUE(m_list->all().empty());
}

TEST_F(InputTest, ReadsTheOtherLayers) {
    plain_cables();
    plain_columns();
    layer(AssetLayer::supplies,
          {{point(100, 100),
            R"("supply_id":"P1","kind":"section pillar","earthing":"TT","ze_ohm":0.35,)"
            R"("ze_r_ohm":0.3,"ze_x_ohm":0.1,"ze_basis":"measured","pscc_ka":1.2,"pscc3_ka":2.4,)"
            R"("voltage_v":240,"phases":3,"fuse_type":"none","rcd_ma":100,"electrode_ohm":20,)"
            R"("transformer_kva":500,"transformer_z_pct":4.75,"transformer_r_pct":1,)"
            R"("status":"removed")"}});
    source(AssetLayer::ways).dataset =
        write("ways.csv", "supply_id,way,circuit,phase,control,fuse_type,fuse_a,rcd_ma,limit_s\n"
                          "P1,2,A,L3,switch core,BS 88-2,25,,5\nP1,1,,L1,,BS 88-2,16,,\n");
    layer(AssetLayer::joints, {{point(110, 100), R"("joint_id":"J1","kind":"pot end")"}});
    layer(AssetLayer::mains, {{line("[[0,0],[0,40]]"), R"("main_id":"M1","customers":12)"}});
    source(AssetLayer::terminations).dataset =
        write("terminations.csv", "asset_id,cable_id,asset_layer,state,side,earth\n"
                                  "C1,K1,columns,open,fused,not bonded\n");
    source(AssetLayer::loads).dataset = write("loads.csv", "column_id,use,load_w\nC1,sign,20\n");
    source(AssetLayer::readings).dataset =
        write("readings.csv", "asset_id,asset_layer,taken_on,taken_at,zs_ohm,method\n"
                              "C1,columns,2024-05-01,cut-out,0.75,no trip\n");
    const ReadResult result = read();
    const model::Layers& l = result.layers;
    const model::Supply& s = l.supplies[0];
    EXPECT_EQ(s.kind, model::SupplyKind::section_pillar);
    EXPECT_EQ(s.earthing, model::Earthing::tt);
    EXPECT_EQ(s.ze, Maybe(Ohm(0.35)));
    EXPECT_EQ(s.ze_basis, model::Basis::measured);
    EXPECT_EQ(s.pscc_basis, model::Basis::declared); // also without a word
    EXPECT_EQ(s.phases, Maybe(base::Number(3.0)));
    EXPECT_EQ(s.fuse.word, model::FuseRecord::Word::none);
    EXPECT_EQ(s.status, model::Status::removed);
    EXPECT_EQ(l.id_text(l.ways[0].way), "1"); // by supply, then way
    EXPECT_EQ(l.ways[1].control, model::Control::switch_core);
    EXPECT_EQ(result.position_of_feature[static_cast<std::size_t>(AssetLayer::ways)],
              (std::vector<std::uint32_t>{1, 0}));
    EXPECT_EQ(l.joints[0].kind, model::JointKind::pot_end);
    EXPECT_EQ(l.mains[0].lines[0], (base::Polyline{{0, 0}, {0, 40}}));
    EXPECT_EQ(l.mains[0].customers, Maybe(base::Number(12.0)));
    EXPECT_EQ(l.terminations[0].state, model::CableEndState::open);
    EXPECT_EQ(l.terminations[0].side, model::CutOutSide::fused);
    EXPECT_EQ(l.terminations[0].earth, model::EarthBond::not_bonded);
    EXPECT_EQ(l.terminations[0].asset_layer, AssetLayer::columns);
    EXPECT_EQ(l.loads[0].load, Maybe(Watt(20.0)));
    EXPECT_EQ(l.id_text(l.loads[0].use), "sign");
    EXPECT_EQ(l.readings[0].taken_at, model::TakenAt::cut_out);
    EXPECT_EQ(l.readings[0].zs, Maybe(Ohm(0.75)));
    EXPECT_EQ(l.readings[0].method, model::TestMethod::no_trip);
    EXPECT_TRUE(m_list->all().empty()) << m_list->all()[0].message;
}

TEST_F(InputTest, NumbersThatCannotBeAreToldOncePerAssetAndDropped) {
    plain_cables();
    layer(AssetLayer::columns,
          {{point(100, 100), R"("column_id":"C1","load_w":"-5","power_factor":"1.5")"},
           {point(200, 100), R"("column_id":"C2","load_w":"35 lumens","power_factor":"0")"},
           {point(300, 100), R"("column_id":"C3","load_w":"nan","power_factor":"-0.9")"},
           {point(400, 100), R"("column_id":"C4","load_w":" ","power_factor":" 1 ")"}});
    const ReadResult result = read();
    EXPECT_EQ(brief(Rule::bad_value), (Texts{"columns C1 -5.000", "columns C2", "columns C3"}));
    const Finding first = found(Rule::bad_value)[0];
    expect_has(first.message, "load_w is -5");
    expect_has(first.message, "power_factor is 1.5");
    EXPECT_EQ(first.place, (base::Point2{100, 100}));
    EXPECT_EQ(first.severity, base::Severity::warning);
    expect_has(found(Rule::bad_value)[1].message, "'35 lumens'");
    for (const model::Column& c : result.layers.columns) {
        EXPECT_FALSE(c.load.has_value());
    }
    EXPECT_EQ(result.layers.columns[2].power_factor, Maybe(base::Number(-0.9)));
    EXPECT_EQ(result.layers.columns[3].power_factor, Maybe(base::Number(1.0)));
}

TEST_F(InputTest, LimitsOfTheOtherNumbers) {
    plain_columns();
    layer(AssetLayer::cables, {{line("[[0,0],[9,0]]"), R"("cable_id":"K1","length_m":0)"}});
    layer(AssetLayer::supplies, {{point(1, 1), R"("supply_id":"P1","ze_ohm":-0.1,"phases":2,)"
                                               R"("fuse_a":0,"pscc_ka":0,"voltage_v":-230)"}});
    const ReadResult result = read();
    const model::Supply& s = result.layers.supplies[0];
    EXPECT_FALSE(s.ze || s.phases || s.fuse.rating || s.pscc_ka || s.voltage);
    EXPECT_FALSE(result.layers.cables[0].laid.has_value());
    EXPECT_EQ(brief(Rule::bad_value), (Texts{"cables K1 0.0000", "supplies P1 -0.100"}));
    for (const char* field : {"ze_ohm", "phases", "fuse_a", "pscc_ka", "voltage_v"}) {
        expect_has(found(Rule::bad_value)[1].message, field);
    }
}

TEST_F(InputTest, UnknownWordsAreToldOncePerWordAtTheFirstAsset) {
    plain_cables();
    layer(AssetLayer::columns, {{point(300, 1), R"("column_id":"C3","owner":"Parish")"},
                                {point(200, 1), R"("column_id":"C2","owner":"PARISH ")"},
                                {point(100, 1), R"("column_id":"C1","owner":"council")"},
                                {point(400, 1), R"("column_id":"C4","owner":"estate")"},
                                {point(500, 1), R"("column_id":"C5","kind":"parish")"}});
    const ReadResult result = read();
    EXPECT_EQ(brief(Rule::bad_value), (Texts{"columns C2 x2", "columns C4 x1", "columns C5 x1"}));
    expect_has(found(Rule::bad_value)[0].message, "'PARISH'");
    expect_has(found(Rule::bad_value)[0].message, "owner");
    expect_has(found(Rule::bad_value)[0].fix, "distributor");
    EXPECT_EQ(result.layers.columns[1].owner, model::Owner::unknown);
}

TEST_F(InputTest, UnknownAndMissingTypes) {
    layer(AssetLayer::cables, {{line("[[0,0],[9,0]]"), R"("cable_id":"K1","cable_type":"old")"},
                               {line("[[0,5],[9,5]]"), R"("cable_id":"K2","cable_type":"OLD")"},
                               {line("[[0,9],[9,9]]"), R"("cable_id":"K3","cable_type":null)"},
                               {line("[[0,7],[9,7]]"), R"("cable_id":"K4","cable_type":"SWA 6")"}});
    layer(AssetLayer::columns,
          {{point(100, 1), R"("column_id":"C1","load_w":35,"fuse_type":"BS 9","tail_type":"flex")"},
           {point(200, 1), R"("column_id":"C2","load_w":35,"fuse_a":6)"},
           {point(300, 1), R"("column_id":"C3","load_w":35)"},
           {point(400, 1), R"("column_id":"C4","load_w":0)"},
           {point(500, 1), R"("column_id":"C5","load_w":35,"fuse_type":"none")"},
           {point(600, 1), R"("column_id":"C6","load_w":35,"fuse_type":"BS 88-2")"}});
    layer(AssetLayer::supplies, {{point(1, 1), R"("supply_id":"P1")"}});
    source(AssetLayer::ways).dataset =
        write("ways.csv", "supply_id,way,fuse_type,fuse_a\nP1,1,,\nP1,2,,16\nP1,3,BS 88-2,\n");
    const ReadResult result = read();
    EXPECT_EQ(brief(Rule::type_unknown), (Texts{"columns C1 x1", "cables K1 x2", "cables K3 x1"}));
    EXPECT_EQ(brief(Rule::fuse_unknown), (Texts{"columns C1 x1", "columns C2 x2", "ways P1/1 x2"}));
    EXPECT_EQ(result.layers.id_text(result.layers.cables[0].type.text), "old");
    EXPECT_EQ(result.layers.columns[0].fuse.word, model::FuseRecord::Word::not_found);
    EXPECT_EQ(result.layers.id_text(result.layers.columns[0].fuse.text), "BS 9");
    EXPECT_EQ(found(Rule::fuse_unknown)[2].place, (base::Point2{1, 1})); // at the supply
}

TEST_F(InputTest, LengthsThatDifferFromTheDrawing) {
    plain_columns();
    // Drawn 30 m (30.0 on the grid; the ground differs by less than 0.1 %).
    layer(AssetLayer::cables, {{line("[[0,0],[30,0]]"), R"("cable_id":"K1","length_m":14.9)"},
                               {line("[[0,5],[30,5]]"), R"("cable_id":"K2","length_m":15.2)"},
                               {line("[[0,9],[30,9]]"), R"("cable_id":"K3","length_m":59.8)"},
                               {line("[[0,7],[30,7]]"), R"("cable_id":"K4","length_m":3000)"}});
    const ReadResult result = read();
    const auto differing = found(Rule::length_differs);
    ASSERT_EQ(differing.size(), 2U);
    EXPECT_EQ(differing[0].asset_id, "K1");
    EXPECT_NEAR(*differing[0].value, 14.9 / 30.0, 1e-3);
    EXPECT_EQ(differing[0].limit, 0.5);
    EXPECT_EQ(differing[1].asset_id, "K4");
    EXPECT_NEAR(*differing[1].value, 100.0, 0.2);
    EXPECT_EQ(differing[1].limit, 2.0);
    EXPECT_EQ(result.layers.cables[3].laid, Maybe(base::Metre(3000.0)));
}

TEST_F(InputTest, RowsThatNameNoAsset) {
    plain_cables();
    plain_columns();
    layer(AssetLayer::supplies, {{point(1, 1), R"("supply_id":"C1")"}});
    source(AssetLayer::ways).dataset = write("ways.csv", "supply_id,way\nP9,1\n,2\nC1,3\n");
    source(AssetLayer::terminations).dataset = write(
        "terminations.csv", "asset_id,cable_id,asset_layer\nC1,K1,columns\nC1,K1,\nX,K9,joints\n");
    source(AssetLayer::loads).dataset = write("loads.csv", "column_id,load_w\nX,1\nC1,2\n");
    source(AssetLayer::readings).dataset = write("readings.csv", "asset_id,zs_ohm\nK1,\nX,\n");
    (void)read();
    EXPECT_EQ(brief(Rule::bad_value), (Texts{"ways P9/1", "ways fid:2/2", "terminations C1/K1",
                                             "terminations X/K9", "loads X", "readings X"}));
    const auto all = found(Rule::bad_value);
    expect_has(all[0].message, "'P9'");
    expect_has(all[1].message, "supply_id is not recorded");
    expect_has(all[2].message, "several layers");
    expect_has(all[3].message, "asset_id is 'X'");
    expect_has(all[3].message, "cable_id is 'K9'");
}

TEST_F(InputTest, CompletenessCountsUsableValuesByArea) {
    layer(AssetLayer::cables, {{line("[[0,0],[9,0]]"), R"("cable_id":"K1","length_m":9)"},
                               {line("[[0,5],[9,5]]"), R"("cable_id":"K2","length_m":-9)"}});
    layer(AssetLayer::columns,
          {{point(1, 1), R"("column_id":"C1","area":"W1","load_w":35,"owner":"unknown")"},
           {point(9, 1), R"("column_id":"C2","area":"W1","load_w":null,"owner":"council")"},
           {point(20, 1), R"("column_id":"C3","area":" ","load_w":35,"road":"R")"}});
    const ReadResult result = read();
    const auto row = [&](AssetLayer layer, const std::string& attribute, const std::string& area) {
        for (const Completeness& c : result.completeness) {
            if (c.layer == layer && c.attribute == attribute && c.area == area) {
                return std::to_string(c.known) + "/" + std::to_string(c.total);
            }
        }
        return std::string("none");
    };
    EXPECT_EQ(row(AssetLayer::columns, "load_w", "W1"), "1/2");
    EXPECT_EQ(row(AssetLayer::columns, "load_w", ""), "1/1");
    EXPECT_EQ(row(AssetLayer::columns, "owner", "W1"), "1/2"); // "unknown" is not knowledge
    EXPECT_EQ(row(AssetLayer::columns, "road", ""), "1/1");
    EXPECT_EQ(row(AssetLayer::columns, "tail_m", "W1"), "0/2"); // no such field
    EXPECT_EQ(row(AssetLayer::columns, "column_id", ""), "none");
    EXPECT_EQ(row(AssetLayer::cables, "length_m", ""), "1/2");
    EXPECT_EQ(result.completeness.size(), 22U * 2 + 6U); // fields of contract.md but the ids
}

} // namespace
} // namespace loopwalk::input
