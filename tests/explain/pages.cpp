// Writes the page of every asset of a job as Markdown, one file each, and a list of them:
//   pages JOB FOLDER
// The files are numbered; FOLDER/list.tsv tells which is whose.
#include "loopwalk/app/assessment.hpp"
#include "loopwalk/app/terminal.hpp"
#include "loopwalk/base/error.hpp"
#include "loopwalk/report/explain.hpp"

#include <filesystem>
#include <fstream>
#include <iostream>

namespace {

using namespace std::string_literals;
namespace app = loopwalk::app;
namespace report = loopwalk::report;
using loopwalk::base::AssetLayer;

class PageWriter {
  public:
    PageWriter(app::Assessment& assessment, std::filesystem::path folder)
        : m_assessment(assessment), m_folder(std::move(folder)), m_list(m_folder / "list.tsv") {}

    template <class Asset>
    void write_all(AssetLayer layer, const std::vector<Asset>& assets) {
        for (std::size_t i = 0; i < assets.size(); ++i) {
            write(layer, i, m_assessment.results().layers().id_text(assets[i].id));
        }
    }

  private:
    void write(AssetLayer layer, std::size_t index, const std::string& id) {
        // The way of the command line: the asset by its name, then its page.
        const std::string name = std::string(loopwalk::base::layer_name(layer)) + ":" + id;
        const auto asset = report::find_asset(m_assessment.results().layers(),
                                              m_assessment.results().network, name);
        LW_ASSERT(asset.layer == layer && asset.index == index);
        const report::Page page =
            report::explain(m_assessment.results(), m_assessment.judge(), asset);
        const std::string file = std::to_string(m_count++) + ".md";
        std::ofstream(m_folder / file) << report::as_markdown(page);
        m_list << file << '\t' << loopwalk::base::layer_name(layer) << '\t' << id << '\n';
    }

    app::Assessment& m_assessment;
    std::filesystem::path m_folder;
    std::ofstream m_list;
    std::size_t m_count = 0;
};

int run(const std::string& job, const std::string& folder) {
    std::filesystem::create_directories(folder);
    app::Terminal terminal(app::Quiet::yes, app::Timings::no);
    app::Assessment assessment(job);
    assessment.run(terminal);
    PageWriter writer(assessment, folder);
    const auto& layers = assessment.results().layers();
    writer.write_all(AssetLayer::columns, layers.columns);
    writer.write_all(AssetLayer::cables, layers.cables);
    writer.write_all(AssetLayer::supplies, layers.supplies);
    writer.write_all(AssetLayer::joints, layers.joints);
    return 0;
}

} // namespace

int main(int argc, char** argv) {
    if (argc != 3) {
        std::cerr << "usage: pages JOB FOLDER\n";
        return 2;
    }
    try {
        return run(argv[1], argv[2]);
    } catch (const std::exception& e) {
        std::cerr << "pages: " << e.what() << '\n';
        return 1;
    }
}
