// Tables: findings, survey, completeness and the run record.
#include "loopwalk/base/text.hpp"

#include "asset_sources.hpp"
#include "fields.hpp"
#include "summary_parts.hpp"
#include "writer.hpp"
#include <array>
#include <filesystem>

namespace loopwalk::output {
namespace {

using base::Finding;

/// Version of the output's layers and fields; raised when one changes its meaning.
constexpr std::string_view kSchemaVersion = "1";

constexpr std::string_view kEdition =
    "BS 7671:2018+A2:2022 (values not checked against A4:2026); IEC 60909-0; IEC 60364";

/// A finding with where people look for it.
struct FindingView {
    const Finding& finding;
    std::string_view road, area;
};

// clang-format off: one field a line
constexpr std::array kFindingFields = {
    Field<FindingView>{
        "rule", kText,
        [](Cell c, const FindingView& v) { c.set(base::rule_name(v.finding.rule)); }},
    Field<FindingView>{
        "severity", kText,
        [](Cell c, const FindingView& v) { c.set(base::severity_name(v.finding.severity)); }},
    Field<FindingView>{
        "asset_layer", kText,
        [](Cell c, const FindingView& v) { c.set(base::layer_name(v.finding.layer)); }},
    Field<FindingView>{
        "asset_id", kText,
        [](Cell c, const FindingView& v) { c.set(std::string_view(v.finding.asset_id)); }},
    Field<FindingView>{
        "supply_id", kText,
        [](Cell c, const FindingView& v) { c.set(std::string_view(v.finding.supply_id)); }},
    Field<FindingView>{
        "way", kText, [](Cell c, const FindingView& v) { c.set(std::string_view(v.finding.way)); }},
    Field<FindingView>{"value", kReal,
                       [](Cell c, const FindingView& v) { c.set(v.finding.value); }},
    Field<FindingView>{"limit", kReal,
                       [](Cell c, const FindingView& v) { c.set(v.finding.limit); }},
    Field<FindingView>{
        "unit", kText,
        [](Cell c, const FindingView& v) { c.set(std::string_view(v.finding.unit)); }},
    Field<FindingView>{"count", kInteger,
                       [](Cell c, const FindingView& v) { c.set(v.finding.count); }},
    Field<FindingView>{
        "message", kText,
        [](Cell c, const FindingView& v) { c.set(std::string_view(v.finding.message)); }},
    Field<FindingView>{
        "clause", kText,
        [](Cell c, const FindingView& v) { c.set(std::string_view(v.finding.clause)); }},
    Field<FindingView>{
        "fix", kText, [](Cell c, const FindingView& v) { c.set(std::string_view(v.finding.fix)); }},
    Field<FindingView>{"road", kText, [](Cell c, const FindingView& v) { c.set(v.road); }},
    Field<FindingView>{"area", kText, [](Cell c, const FindingView& v) { c.set(v.area); }},
};
// clang-format on

} // namespace

void Writer::write_findings() {
    const std::span<const Field<FindingView>> fields(kFindingFields);
    const checks::Concerned concerned(layers, net);
    const AssetSources sources(results.read, layers);
    std::vector<gis::OutputField> declared_fields = declared(fields);
    if (sources.any()) {
        declared_fields.insert(declared_fields.end(), source_fields().begin(),
                               source_fields().end());
    }
    auto writer = m_out.create_layer(
        {"findings", gis::GeometryKind::point, gis::SpatialIndex::yes, declared_fields},
        results.read.cables);
    m_progress.stage("write findings", results.findings.all().size());
    for (const Finding& finding : results.findings.all()) {
        FindingView view{finding, {}, {}};
        if (const auto column = concerned.column_of(finding)) {
            view.road = layers.text.view(layers.columns[column->index()].road);
            view.area = layers.text.view(layers.columns[column->index()].area);
        }
        gis::Row& row = writer.row();
        fill(row, fields, view);
        if (const auto source = sources.of(finding.layer, finding.asset_id)) {
            const auto& parts = results.read.parts[static_cast<std::size_t>(finding.layer)];
            fill_source(row, fields.size(), parts[source->part], source->fid);
        }
        if (finding.place.has_value()) {
            writer.write(place(*finding.place));
        } else {
            writer.write();
        }
    }
}

void Writer::write_survey() {
    auto writer = m_out.create_layer({"survey",
                                      gis::GeometryKind::none,
                                      gis::SpatialIndex::no,
                                      {{"asset_layer", kText},
                                       {"asset_id", kText},
                                       {"attribute", kText},
                                       {"word", kText},
                                       {"assets", kInteger},
                                       {"verdicts_settled", kInteger},
                                       {"verdicts_touched", kInteger},
                                       {"rank", kInteger}}},
                                     {});
    std::int64_t rank = 0;
    for (const survey::SurveyRow& survey : results.survey) {
        gis::Row& row = writer.row();
        Cell(row, 0).set(base::layer_name(survey.layer));
        Cell(row, 1).set(std::string_view(survey.asset_id));
        Cell(row, 2).set(std::string_view(survey.attribute));
        Cell(row, 3).set(std::string_view(survey.word));
        Cell(row, 4).set(std::int64_t{survey.assets});
        Cell(row, 5).set(std::int64_t{survey.settled});
        Cell(row, 6).set(std::int64_t{survey.touched});
        Cell(row, 7).set(++rank);
        writer.write();
    }
}

void Writer::write_completeness() {
    auto writer = m_out.create_layer({"completeness",
                                      gis::GeometryKind::none,
                                      gis::SpatialIndex::no,
                                      {{"layer", kText},
                                       {"attribute", kText},
                                       {"area", kText},
                                       {"known", kInteger},
                                       {"total", kInteger}}},
                                     {});
    for (const input::Completeness& row_in : results.read.completeness) {
        gis::Row& row = writer.row();
        Cell(row, 0).set(base::layer_name(row_in.layer));
        Cell(row, 1).set(std::string_view(row_in.attribute));
        Cell(row, 2).set(std::string_view(row_in.area));
        Cell(row, 3).set(row_in.known);
        Cell(row, 4).set(row_in.total);
        writer.write();
    }
}

void Writer::write_run() {
    auto writer = m_out.create_layer(
        {"run", gis::GeometryKind::none, gis::SpatialIndex::no, {{"key", kText}, {"value", kText}}},
        {});
    const auto write = [&](std::string_view key, std::string_view value) {
        gis::Row& row = writer.row();
        Cell(row, 0).set(key);
        Cell(row, 1).set(value);
        writer.write();
    };
    write("program", "loopwalk " + std::string(base::program_version()));
    write("schema", kSchemaVersion);
    for (const std::string& library : gis::library_versions()) {
        write("library", library);
    }
    write("edition", kEdition);
    for (const auto& [key, value] : config::settings_text(results.job)) {
        write("setting " + key, value);
    }
    m_source.check_unchanged(); // all has been copied
    for (const input::InputFile& file : m_source.inputs()) {
        write("input " + base::printable(std::filesystem::path(file.path).filename().string()),
              std::to_string(file.digest.size) + " bytes, sha256 " + file.digest.sha256);
    }
    for (const input::LayerRead& layer : results.read.read) {
        write("layer " + std::string(base::layer_name(layer.layer)), layer_text(layer));
    }
    write("working system", results.read.working.text());
    const auto count = [&](std::string_view name, std::size_t n) {
        write("count " + std::string(name), std::to_string(n));
    };
    count("columns", layers.columns.size());
    count("cables", layers.cables.size());
    count("supplies", layers.supplies.size());
    count("ways", layers.ways.size());
    count("sections", net.snapped.sections.size());
    count("findings", results.findings.all().size());
    count("moves", net.snapped.moves.size());
    count("gaps", net.snapped.gaps.size());
    for (const std::string& assumption : results.read.assumptions) {
        write("assumption", assumption);
    }
    for (const std::string& assumption : results.assumptions.used) {
        write("assumption", assumption);
    }
    for (const std::string& caution : cautions()) {
        write("caution", caution);
    }
}

} // namespace loopwalk::output
