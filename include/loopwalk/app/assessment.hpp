// The stages from a job to judged figures, without writing anything: what every command that looks
// at the network starts with.
#pragma once

#include "loopwalk/output/results.hpp"

#include <memory>
#include <string>
#include <vector>

namespace loopwalk::app {

/// Owns everything that the results refer to; stays where it is made.
class Assessment {
  public:
    /// Reads the job and the catalogue and opens the datasets. `job`: a job file (*.toml) or a
    /// dataset with native names; `part` goes before the job's where it is set. Throws a
    /// base::Error.
    explicit Assessment(const std::string& job, const config::PartSettings& part = {});
    Assessment(const Assessment&) = delete;
    Assessment& operator=(const Assessment&) = delete;

    /// Reads, snaps, traces, assesses and judges. Call once.
    void run(base::Progress& progress);

    /// As read, with `part` in place of its own where that was set.
    [[nodiscard]] const config::Job& job() const noexcept { return m_job; }
    /// The open datasets; copied to the result from here.
    [[nodiscard]] input::Source& source() noexcept { return m_source; }
    /// All that the run reads and must not change: job file, catalogue, files of the datasets,
    /// schemas of databases.
    [[nodiscard]] std::vector<std::string> inputs() const;
    // Precondition of the following: run() has been called.
    /// Verdicts and what lies behind them. Remembers what it has judged.
    [[nodiscard]] protection::Judge& judge() { return *m_judge; }
    /// All that the output layers are written from.
    [[nodiscard]] const output::Results& results() const { return *m_results; }

  private:
    std::string m_job_name;
    config::Job m_job;
    catalogue::Catalogue m_catalogue;
    impedance::Assumptions m_assumptions;
    input::Source m_source;
    base::FindingList m_findings;
    input::ReadResult m_read;
    network::Network m_network;
    trace::Trace m_trace;
    figures::Figures m_figures;
    std::unique_ptr<ends::CableEnds> m_ends;
    checks::Review m_review;
    std::vector<survey::SurveyRow> m_survey;
    std::vector<suspects::Suspect> m_suspects;
    checks::Standing m_standing;
    std::unique_ptr<protection::Judge> m_judge;
    std::unique_ptr<output::Results> m_results;
};

} // namespace loopwalk::app
