// How a column is fed, against what is recorded of it, and what else that puts into the column.
#include "loopwalk/base/text.hpp"

#include "network_findings.hpp"
#include <map>
#include <tuple>

namespace loopwalk::checks {

using figures::FigureState;
using protection::Feed;
using protection::FeedBasis;
using protection::FeedKind;

namespace {

using base::Finding;
using base::Rule;
using model::Owner;
using model::StatedFeed;

constexpr double kSqrt3 = 1.7320508075688772;

/// What is stated cannot be what was traced.
bool differs(StatedFeed stated, FeedKind traced) {
    switch (stated) {
    case StatedFeed::main:
        return traced == FeedKind::pillar || traced == FeedKind::column;
    case StatedFeed::pillar:
        return traced == FeedKind::main || traced == FeedKind::column;
    case StatedFeed::column:
        return traced == FeedKind::main; // a pillar may feed it through another column
    case StatedFeed::none:
        break;
    }
    return false;
}

std::string_view feed_words(FeedKind kind) {
    switch (kind) {
    case FeedKind::pillar:
        return "a council's pillar";
    case FeedKind::main:
        return "a distributor's main or service";
    case FeedKind::column:
        return "another column on a distributor's service";
    case FeedKind::several:
    case FeedKind::not_traced:
        break;
    }
    return "several supplies";
}

std::string_view stated_words(StatedFeed feed) {
    switch (feed) {
    case StatedFeed::main:
        return "a main";
    case StatedFeed::pillar:
        return "a pillar";
    case StatedFeed::column:
        return "another column";
    case StatedFeed::none:
        break;
    }
    return "";
}

class FeedReporter : Reporter {
  public:
    explicit FeedReporter(const CheckContext& context) : Reporter(context) {}

    void run() {
        for (std::size_t c = 0; c < m_in.layers.columns.size(); ++c) {
            const ColumnId id(c);
            if (!model::conducts(m_in.layers.columns[c].status)) {
                continue;
            }
            against_record(id);
            three_phases(id);
        }
    }

  private:
    void against_record(ColumnId id);
    void three_phases(ColumnId id);
};

void FeedReporter::against_record(ColumnId id) {
    const model::Column& column = m_in.layers.columns[id.index()];
    const Feed feed = m_judge.feeds().of(id);
    if (feed.basis != FeedBasis::traced) {
        return;
    }
    if (differs(column.feed, feed.kind)) {
        Finding f = m_build.at_column(Rule::feed_differs, id);
        f.message = "Column " + f.asset_id + " is recorded as fed from " +
                    std::string(stated_words(column.feed)) + ", but is traced to " +
                    std::string(feed_words(feed.kind)) + ".";
        f.fix = "Check on site what feeds it; correct the record or the cable's ends.";
        m_findings.add(std::move(f));
    }
    const bool theirs = column.owner == Owner::distributor && feed.kind == FeedKind::pillar;
    const bool ours = column.owner == Owner::council && feed.kind == FeedKind::main &&
                      m_in.figures.columns[id.index()].state == FigureState::from_main;
    if (theirs || ours) {
        Finding f = m_build.at_column(Rule::owner_differs, id);
        f.message = "The supply of column " + f.asset_id + " is recorded as the " +
                    (theirs ? "distributor's" : "council's") + ", but is traced to " +
                    std::string(feed_words(feed.kind)) + ".";
        f.fix = "Check whose supply it is; correct the owner or the cable's ends.";
        m_findings.add(std::move(f));
    }
}

/// 400 V where a way of three phases loops through.
void FeedReporter::three_phases(ColumnId id) {
    const figures::ColumnFigures& figures = m_in.figures.columns[id.index()];
    const bool is_three =
        figures.infeed.is_valid() &&
        figures::is_three_phase(m_in.layers, m_in.network, m_in.figures.sources, figures.infeed);
    const auto* source = m_judge.facts().source(figures);
    if (!is_three || source == nullptr) {
        return;
    }
    Finding f = m_build.at_column(Rule::three_phase_in_column, id);
    f.value = source->u0.value() * kSqrt3;
    f.message = "A way of three phases loops through column " + f.asset_id + ": about " +
                base::short_text(*f.value, 2) + " V between its terminals.";
    m_findings.add(std::move(f));
}

class EarthPathReporter : Reporter {
  public:
    explicit EarthPathReporter(const CheckContext& context) : Reporter(context) {}

    void run() {
        for (std::size_t r = 0; r < m_review.infeeds.size(); ++r) {
            if (!m_review.infeeds[r].without_earth.empty()) {
                report(InfeedId(r));
            }
        }
    }

  private:
    void report(InfeedId infeed) {
        const auto& columns = m_review.infeeds[infeed.index()].without_earth;
        const ColumnId first = *std::ranges::min_element(columns, {}, [&](ColumnId id) {
            return std::tuple(m_in.figures.columns[id.index()].run, id);
        });
        Finding f = m_build.at_column_of_way(Rule::no_earth_path, infeed, first);
        f.count = static_cast<std::int64_t>(columns.size());
        f.value = static_cast<double>(columns.size());
        f.message = "From column " + f.asset_id + " on, " + std::to_string(columns.size()) +
                    (columns.size() == 1 ? " column of " : " columns of ") +
                    m_explain.infeed_name(infeed) +
                    " have no earth path on record: a fault makes their metalwork live and no fuse "
                    "opens.";
        base::add_concerns(f, columns);
        m_build.advise(f, first,
                       "Candidates: the armour bonded at every gland, an added earth core, or an "
                       "electrode with an RCD; no fuse cures it.");
        m_findings.add(std::move(f));
    }
};

/// Columns of one road, or where none is recorded of one main or area.
class MainFuseReporter : Reporter {
  public:
    explicit MainFuseReporter(const CheckContext& context) : Reporter(context) {}

    void run() {
        std::map<std::tuple<std::string, std::string>, std::vector<ColumnId>> groups;
        for (const ColumnId id : m_review.main_fuse_only) {
            const std::string road = m_in.layers.id_text(m_in.layers.columns[id.index()].road);
            groups[{road, road.empty() ? where(id) : std::string{}}].push_back(id);
        }
        for (const auto& [key, columns] : groups) {
            report(std::get<0>(key), std::get<1>(key), columns);
        }
    }

  private:
    [[nodiscard]] std::string where(ColumnId id) const {
        const InfeedId infeed = m_in.figures.columns[id.index()].infeed;
        const auto main = infeed.is_valid() ? m_in.network.main_of(infeed) : std::nullopt;
        const base::TextId area = m_in.layers.columns[id.index()].area;
        return main.has_value()  ? " on " + m_explain.infeed_name(infeed)
               : area.is_valid() ? " of area " + m_in.layers.id_text(area)
                                 : std::string{};
    }

    void report(const std::string& road, const std::string& place,
                const std::vector<ColumnId>& columns) {
        Finding f = m_build.at_column(Rule::main_fuse_only, columns.front());
        f.count = static_cast<std::int64_t>(columns.size());
        if (columns.size() > 1) {
            f.supply_id.clear(); // of many services
            f.way.clear();
        }
        f.message = "Nothing but the distributor's main fuse protects the incoming side of " +
                    (columns.size() == 1 ? "column " + f.asset_id
                                         : std::to_string(columns.size()) + " columns, from " +
                                               f.asset_id + " on,") +
                    (road.empty() ? place : " in " + road) + ": ask the distributor.";
        base::add_concerns(f, columns);
        m_findings.add(std::move(f));
    }
};

} // namespace

void report_feeding(const CheckContext& context) {
    FeedReporter(context).run();
}

void report_earth_paths(const CheckContext& context) {
    EarthPathReporter(context).run();
}

void report_main_fuses(const CheckContext& context) {
    MainFuseReporter(context).run();
}

} // namespace loopwalk::checks
