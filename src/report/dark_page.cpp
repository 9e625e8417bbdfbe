#include "loopwalk/base/text.hpp"
#include "loopwalk/output/dark.hpp"
#include "loopwalk/report/dark.hpp"

#include "utf8.hpp"
#include <algorithm>

namespace loopwalk::report {
namespace {

using base::ColumnId;
using outage::Diagnosis;
using outage::Explanation;
using outage::Loss;
using outage::PlaceKind;
using outage::Scope;

constexpr std::size_t kLineLength = 78;
constexpr std::size_t kMostExplanations = 5;
constexpr std::size_t kMostAlternatives = 5; // of one loss
constexpr std::size_t kMostPairs = 2;
constexpr std::size_t kMostIds = 8;

/// Broken at blanks; the first line begins with `first`, the others with as many blanks.
std::string wrapped(const std::string& text, const std::string& first) {
    const std::string hang(shown_width(first), ' ');
    std::string out = first;
    std::size_t used = hang.size();
    bool is_line_start = true;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::string word = text.substr(at, end - at);
        const std::size_t width = shown_width(word) + (is_line_start ? 0 : 1);
        if (!is_line_start && used + width > kLineLength) {
            out += "\n" + hang;
            used = hang.size();
            is_line_start = true;
        }
        out += is_line_start ? word : " " + word;
        used += shown_width(word) + (is_line_start ? 0 : 1);
        is_line_start = false;
        at = end + 1;
    }
    return out + "\n";
}

std::string counted(std::size_t count, const std::string& one, const std::string& several) {
    return std::to_string(count) + " " + (count == 1 ? one : several);
}

class DarkText {
  public:
    DarkText(const output::Results& results, const outage::Seen& seen, const Diagnosis& diagnosis)
        : m_r(results), m_words(results), m_seen(seen), m_d(diagnosis) {}

    std::string run() {
        write_first();
        write_seen();
        write_explanations();
        write_assumed();
        heading("Cautions");
        for (const std::string& caution : output::cautions()) {
            bullet(caution);
        }
        return std::move(m_out);
    }

  private:
    void line(const std::string& text, const std::string& first = "") {
        m_out += wrapped(text, first);
    }
    void bullet(const std::string& text) { line(text, "- "); }
    void heading(const std::string& text) { m_out += "\n" + text + "\n"; }

    [[nodiscard]] std::string ids(const std::vector<ColumnId>& columns) const {
        std::vector<std::string> names;
        for (const ColumnId id : columns) {
            names.push_back(m_words.column(id));
        }
        return base::listed(names, kMostIds);
    }
    [[nodiscard]] std::string cable_ids(const std::vector<base::CableId>& cables) const {
        std::vector<std::string> names;
        for (const base::CableId id : cables) {
            names.push_back(m_r.layers().id_text(m_r.layers().cables[id.index()].id));
        }
        return base::listed(names, kMostIds);
    }

    [[nodiscard]] std::vector<const Explanation*> complete() const {
        return outage::in_order(m_d, m_seen.switching);
    }

    void write_first();
    void write_steps(const std::vector<Loss>& losses);
    void write_next();
    void write_seen();
    void write_explanations();
    void write_explanation(std::size_t number, const Explanation& explanation);
    [[nodiscard]] std::string alternative(const std::vector<Loss>& losses) const;
    [[nodiscard]] std::string effect_text(const Explanation& explanation) const;
    void write_assumed();
    void write_records();
    [[nodiscard]] std::string owner_unknown() const;
    [[nodiscard]] bool is_three_phase() const;

    const output::Results& m_r;
    output::LossWords m_words;
    const outage::Seen& m_seen;
    const Diagnosis& m_d;
    std::string m_out;
};

bool may_hold_a_fuse(const Loss& loss) {
    return loss.scope != Scope::switching &&
           (loss.place.kind == PlaceKind::way || loss.place.kind == PlaceKind::cut_out ||
            loss.place.kind == PlaceKind::fused_joint);
}

bool is_switching(const Loss& loss) {
    return loss.scope == Scope::switching;
}

bool has_switching(const Explanation* explanation) {
    return std::ranges::any_of(explanation->alternatives, [](const std::vector<Loss>& losses) {
        return std::ranges::any_of(losses, is_switching);
    });
}

void DarkText::write_steps(const std::vector<Loss>& losses) {
    std::size_t number = 1;
    for (const Loss& loss : losses) {
        line(m_words.first_step(loss), std::to_string(number++) + ". ");
    }
    if (std::ranges::any_of(losses, may_hold_a_fuse)) {
        line("A fuse that has blown has a cause: test the cable before a new one goes in.", "   ");
    }
    if (std::ranges::any_of(losses, is_switching)) {
        line("What hangs on it becomes live when it switches, without warning.", "   ");
    }
    if (m_d.next.has_value()) {
        write_next();
    }
}

void DarkText::write_next() {
    line("Is " + m_words.column(m_d.next->column) + " lit? Of the " +
             std::to_string(complete().size()) + " explanations below that leaves " +
             std::to_string(m_d.next->left_if_out) + " if it is out, " +
             std::to_string(m_d.next->left_if_lit) + " if it is lit.",
         "   ");
}

void DarkText::write_first() {
    if (const auto all = complete(); !all.empty()) {
        write_steps(all.front()->alternatives.front());
        return;
    }
    line("Nothing that the records show explains all of this, neither one loss nor two. Look "
         "first whether what is lit or out was seen right, and whether the records show how these "
         "columns are fed.");
    if (!m_d.singles.empty()) {
        line("The nearest: " +
             m_words.first_step(m_d.singles.front().alternatives.front().front()));
    }
}

void DarkText::write_seen() {
    m_out += "\n";
    line(ids(m_seen.out) + " (" + std::to_string(m_seen.out.size()) + ")", "Out: ");
    if (!m_seen.lit.empty()) {
        line(ids(m_seen.lit) + " (" + std::to_string(m_seen.lit.size()) + ")", "Lit: ");
    }
    if (m_seen.switching == outage::FollowsSwitching::yes) {
        line("It comes and goes with the switching.");
    }
}

void DarkText::write_explanations() {
    auto all = complete();
    heading(all.empty()         ? "What explains some of it, or contradicts what is lit"
            : m_d.pairs.empty() ? "What one loss explains it, where to look first on top"
            : m_d.complete_singles == 0
                ? "No one loss explains it; these two together do"
                : "One loss or two together explain it, where to look first on top");
    if (all.empty()) {
        for (const Explanation& single : m_d.singles) {
            all.push_back(&single);
        }
    }
    for (std::size_t n = 0; n < std::min(all.size(), kMostExplanations); ++n) {
        write_explanation(n + 1, *all[n]);
    }
    if (all.size() > kMostExplanations) {
        line("and " + std::to_string(all.size() - kMostExplanations) +
             " more, in the file of --json" +
             (m_d.are_pairs_whole ? "" : "; there are still others, too many to search") + ".");
    }
}

std::string DarkText::alternative(const std::vector<Loss>& losses) const {
    std::string text = m_words.what(losses.front());
    for (std::size_t n = 1; n < losses.size(); ++n) {
        text += "; and " + m_words.what(losses[n]);
    }
    return text;
}

void DarkText::write_explanation(std::size_t number, const Explanation& explanation) {
    const auto& alternatives = explanation.alternatives;
    const std::string first = std::to_string(number) + "  ";
    const std::size_t most = alternatives.front().size() == 1 ? kMostAlternatives : kMostPairs;
    for (std::size_t n = 0; n < std::min(alternatives.size(), most); ++n) {
        line(alternative(alternatives[n]), n == 0 ? first : std::string(first.size(), ' ') + "or ");
    }
    if (alternatives.size() > most) {
        line("or " + counted(alternatives.size() - most, "other", "others") +
                 " that would put out the same columns",
             std::string(first.size(), ' '));
    }
    line(effect_text(explanation), std::string(first.size(), ' ') + "= ");
}

std::string DarkText::effect_text(const Explanation& e) const {
    std::string text = "explains ";
    text += e.unexplained.empty()
                ? "all that is out"
                : std::to_string(e.explained.size()) + " of " + std::to_string(m_seen.out.size()) +
                      " (not " + ids(e.unexplained) + ")";
    if (!e.contradicted.empty()) {
        text += "; but would put out " + ids(e.contradicted) + ", which is lit";
    }
    if (!e.relying.empty()) {
        text += "; only if what the records leave open of " + ids(e.relying) + " is so";
    }
    text += e.also_out.empty() ? "; puts out no other for certain"
                               : "; also puts out " + ids(e.also_out);
    if (!e.may_be_out.empty()) {
        text += "; may put out " + ids(e.may_be_out);
    }
    return text;
}

bool DarkText::is_three_phase() const {
    return std::ranges::any_of(m_seen.out, [&](ColumnId id) {
        const base::InfeedId infeed = m_r.figures.columns[id.index()].infeed;
        return infeed.is_valid() &&
               figures::is_three_phase(m_r.layers(), m_r.network, m_r.figures.sources, infeed);
    });
}

/// Cables of the first explanations whose owner nobody recorded.
std::string DarkText::owner_unknown() const {
    std::vector<base::CableId> cables;
    const auto all = complete();
    for (std::size_t n = 0; n < std::min(all.size(), kMostExplanations); ++n) {
        for (const auto& losses : all[n]->alternatives) {
            for (const Loss& loss : losses) {
                if (loss.place.kind == PlaceKind::section) {
                    cables.push_back(m_r.network.snapped.sections[loss.place.index].cable);
                }
            }
        }
    }
    std::erase_if(cables, [this](base::CableId id) {
        return m_r.layers().cables[id.index()].owner != model::Owner::unknown;
    });
    std::ranges::sort(cables);
    cables.erase(std::unique(cables.begin(), cables.end()), cables.end());
    return cable_ids(cables);
}

void DarkText::write_assumed() {
    heading("Taken for granted, or not to be told from the records");
    bullet(counted(m_d.looked_at.size(), "column hangs", "columns hang") +
           " together on record, these included. Those that were not named count as not looked "
           "at, not as lit.");
    bullet("Cables, joints and open points are as recorded, and " +
           std::string(m_d.pairs.empty() ? "one thing is lost." : "one or two things are lost."));
    if (m_seen.switching == outage::FollowsSwitching::yes &&
        std::ranges::none_of(complete(), has_switching)) {
        bullet(
            "It follows the switching, but by the records no group's switching explains it: look "
            "whether the photocells are each column's own.");
    }
    write_records();
    if (const std::string cables = owner_unknown(); !cables.empty()) {
        bullet("Owner not recorded, treat as the distributor's: " + cables + ".");
    }
    if (is_three_phase()) {
        bullet("Three phases: 400 V between columns of different phases, and in the pillar.");
    }
}

void DarkText::write_records() {
    const outage::Assumed& a = m_d.assumed;
    const auto columns = [this](const std::string& what, const std::vector<ColumnId>& which) {
        if (!which.empty()) {
            bullet(what + ": " + ids(which) + ".");
        }
    };
    columns("Not traced, no source was found in the records, treat as live (a cable that is lost "
            "on their way cannot be named)",
            a.not_traced);
    columns("No cable on record, taken as fed from the nearest main", a.by_near_main);
    columns("Fed from two sides on record, so that no one loss of cable puts them out (one side "
            "may be open and not recorded)",
            a.fed_twice);
    columns("Phase not recorded: may be on any", a.phase_unknown);
    columns("Switching not recorded: may go by a group's contactor", a.switching_unknown);
    const auto cables = [this](const std::string& what, const std::vector<base::CableId>& which) {
        if (!which.empty()) {
            bullet(what + ": " + cable_ids(which) + ".");
        }
    };
    cables("Status not explained, taken as in service", a.status_unclear);
    cables("Proposed, taken as laid", a.proposed);
    std::vector<base::CableId> sides;
    for (const base::SectionId id : a.side_unknown) {
        sides.push_back(m_r.network.snapped.sections[id.index()].cable);
    }
    cables("On an unknown side of a cut-out's fuse", sides);
    for (const ColumnId id : m_seen.out) {
        if (!model::conducts(m_r.layers().columns[id.index()].status)) {
            bullet(m_words.column(id) + " is recorded as removed or disconnected; it may be live.");
        }
    }
}

} // namespace

std::string dark_text(const output::Results& results, const outage::Seen& seen,
                      const Diagnosis& diagnosis) {
    return DarkText(results, seen, diagnosis).run();
}

} // namespace loopwalk::report
