#include "loopwalk/app/assessment.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/mains/mains.hpp"

#include <filesystem>

namespace loopwalk::app {
namespace {

config::Job load_job(const std::string& name, const config::PartSettings& part) {
    const bool is_job_file = std::filesystem::path(name).extension() == ".toml";
    config::Job job = is_job_file ? config::read_job_file(name) : config::job_for_dataset(name);
    if (!part.is_all() || !part.bbox_crs.empty()) {
        job.data.part = part;
    }
    try {
        config::check(job);
    } catch (const base::ConfigError& e) {
        throw base::ConfigError(name + ": " + e.what());
    }
    return job;
}

catalogue::Catalogue load_catalogue(const config::CatalogueSettings& settings) {
    catalogue::CatalogueText text = catalogue::built_in_text();
    catalogue::AddedTables added;
    const auto take = [](const std::string& path, config::TableMode mode, std::string& contents,
                         std::string& name, catalogue::AddedTable& table) {
        if (path.empty()) {
            return;
        }
        const bool is_added = mode == config::TableMode::add;
        (is_added ? table.text : contents) = catalogue::read_catalogue_file(path);
        (is_added ? table.name : name) = path;
    };
    take(settings.cables, settings.cables_mode, text.cables, text.cables_name, added.cables);
    take(settings.devices, settings.devices_mode, text.devices, text.devices_name, added.devices);
    take(settings.curves, settings.curves_mode, text.curves, text.curves_name, added.curves);
    return catalogue::parse_catalogue(text, added);
}

} // namespace

Assessment::Assessment(const std::string& job, const config::PartSettings& part)
    : m_job_name(job), m_job(load_job(job, part)), m_catalogue(load_catalogue(m_job.catalogue)),
      m_assumptions(impedance::resolve_assumptions(m_job, m_catalogue)), m_source(m_job.data) {}

void Assessment::run(base::Progress& progress) {
    m_read = input::read_layers(m_source, m_job, m_catalogue, m_findings, progress);
    const model::Layers& layers = m_read.layers;
    impedance::check_tails(layers, m_assumptions);
    m_network = network::build_network(
        layers,
        network::snap(layers, {m_job.network.snap, m_job.network.reach}, m_findings, progress),
        m_findings);
    m_trace = trace::trace(layers, m_network, progress);
    trace::report_feeding(layers, m_network, m_trace, m_findings);
    const figures::Inputs inputs{layers, m_catalogue, m_job, m_assumptions, m_network, m_trace};
    m_figures = figures::compute_figures(inputs, mains::model_mains(inputs), progress);
    m_judge = std::make_unique<protection::Judge>(inputs, m_figures);
    m_ends = std::make_unique<ends::CableEnds>(layers, m_network, m_trace, m_figures);
    const checks::ReviewInput judged{layers,  m_catalogue, m_job.rules,   m_network,
                                     m_trace, m_figures,   m_assumptions, *m_ends};
    m_review = checks::review(judged, *m_judge, m_findings, progress);
    m_survey = survey::rank(judged, *m_judge, m_review.undecided);
    m_suspects = suspects::find(judged, *m_judge);
    suspects::report(judged, m_suspects, m_findings);
    m_findings.sort();
    m_standing = checks::stand(layers, m_network, m_review, m_findings.all());
    m_results = std::make_unique<output::Results>(
        output::Results{m_job, m_catalogue, m_read, m_assumptions, m_network, m_trace, m_figures,
                        m_review, m_survey, m_suspects, m_findings, m_standing, *m_ends});
}

std::vector<std::string> Assessment::inputs() const {
    std::vector<std::string> inputs = m_source.files();
    for (std::string& schema : m_source.schemas()) {
        inputs.push_back(std::move(schema));
    }
    const config::CatalogueSettings& catalogue = m_job.catalogue;
    for (const std::string& path :
         {m_job_name, catalogue.cables, catalogue.devices, catalogue.curves}) {
        if (!path.empty()) {
            inputs.push_back(path);
        }
    }
    return inputs;
}

} // namespace loopwalk::app
