// A place that several devices feed, followed as it happens: the fastest opens first, the others
// with the current that is left.
#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include "parts.hpp"
#include <algorithm>

namespace loopwalk::report {
namespace {

using base::DeviceId;
using protection::DeviceChoices;
using solution::MultiFeed;

std::string kinds_of(const DeviceChoices& device) {
    std::vector<std::string> names;
    for (const protection::DeviceChoice& choice : device.any_of) {
        names.push_back(choice.type->name + " " + written(choice.rating.value()) + " A");
    }
    return names.empty() ? "rating not recorded" : base::listed(names, names.size());
}

class OpeningsWriter {
  public:
    OpeningsWriter(Context& c, const figures::FedPoint& place, const protection::Side& side)
        : m_c(c), m_place(place), m_side(side), m_feed(*c.results.figures.feeds[place.feed]),
          m_open(m_feed.devices().size(), 0) {}

    void run() {
        std::vector<Term> times;
        while (true) {
            const MultiFeed::Loop loop = m_feed.loop(m_open, m_place.point);
            if (!loop.is_fed) {
                break;
            }
            const auto next = write_stage(loop);
            if (!next.has_value()) {
                m_c.page.paragraph("At these currents none of the devices that are left is within "
                                   "its table: no time is read off, and the fault goes on.");
                return;
            }
            times.push_back(*next);
        }
        write_total(times);
    }

  private:
    [[nodiscard]] std::string opened_text() const;
    std::optional<Term> write_stage(const MultiFeed::Loop& loop);
    void write_total(const std::vector<Term>& times);

    Context& m_c;
    const figures::FedPoint& m_place;
    const protection::Side& m_side;
    const MultiFeed& m_feed;
    MultiFeed::Opened m_open;
};

std::string OpeningsWriter::opened_text() const {
    std::vector<std::string> names;
    for (std::size_t d = 0; d < m_open.size(); ++d) {
        if (m_open[d] != 0) {
            names.push_back(m_c.explain.device_name(m_feed.devices()[d]));
        }
    }
    return names.empty() ? "All closed" : base::listed(names, names.size()) + " open";
}

/// One stage: the current, its parts through the devices, and the first to open.
std::optional<Term> OpeningsWriter::write_stage(const MultiFeed::Loop& loop) {
    m_c.page.paragraph(opened_text() + ": loop impedance Zs " + written((*loop.zs_high).value()) +
                       " ohm.");
    WorkingLines lines;
    const Term current = lines.line(
        "I", "Cmin * U0 / Zs",
        Term(m_c.rules().cmin) * Term(loop.u0.value()) / Term((*loop.zs_high).value()), "A");
    std::optional<Term> first;
    std::size_t opens = 0;
    Table shares{{{"device"}, {"share of I", Align::number}}, {}};
    for (std::size_t d = 0; d < m_open.size(); ++d) {
        if (m_open[d] != 0) {
            continue;
        }
        const DeviceId id = m_feed.devices()[d];
        const std::string name = m_c.explain.device_name(id);
        const Term share = m_feed.share(m_open, d, m_place.point);
        shares.rows.push_back({name, share.text()});
        const Term part = lines.line("I through " + name, "I * its share", current * share, "A");
        const auto time =
            write_device_time(lines, m_c.judge.devices().choices(id), part, "t of " + name);
        if (time.has_value() && (!first.has_value() || time->value() < first->value())) {
            first = time;
            opens = d;
        }
    }
    m_c.page.add(std::move(shares));
    lines.put_on(m_c.page);
    if (first.has_value()) {
        m_open[opens] = 1;
    }
    return first;
}

void OpeningsWriter::write_total(const std::vector<Term>& times) {
    WorkingLines lines;
    Term sum = times.front();
    for (std::size_t i = 1; i < times.size(); ++i) {
        sum = sum + times[i];
    }
    const Term total = lines.line("t", "times of the openings, added", sum, "s");
    lines.put_on(m_c.page);
    if (m_side.clear.has_value()) {
        must_agree(total.value(), (*m_side.clear).value(), "the clearing time");
    }
}

} // namespace

void write_openings(Context& c, const figures::FedPoint& place, const protection::Side& side,
                    const std::string& limit_text) {
    const MultiFeed& feed = *c.results.figures.feeds[place.feed];
    std::vector<std::string> items;
    std::vector<const DeviceChoices*> devices;
    bool all_known = true;
    for (const DeviceId id : feed.devices()) {
        if (!id.is_valid()) {
            items.emplace_back("A feed without a device of its own.");
            all_known = false;
            continue;
        }
        items.push_back(c.explain.device_name(id) + ": " + kinds_of(c.judge.devices().choices(id)) +
                        ".");
        all_known = all_known && !c.judge.devices().choices(id).any_of.empty() &&
                    !c.judge.devices().is_distributors(id);
        devices.push_back(&c.judge.devices().choices(id));
    }
    c.page.paragraph("Several devices feed this point, and a fault ends when all of them have "
                     "opened:");
    c.page.add(Bullets{items});
    c.page.paragraph("Limit for the whole: " + written((*side.limit).value()) + " s, " +
                     limit_text + ".");
    const bool can_follow =
        all_known && feed.is_exact() && feed.feeds().size() == 1 && side.zs_high.has_value();
    if (!can_follow) {
        c.page.paragraph("It is not followed device by device on this page: " +
                         std::string(feed.feeds().size() > 1
                                         ? "several supplies feed it."
                                         : "the records leave open how the current divides or "
                                           "what the devices are.") +
                         " docs/method.md section 5 tells how it is bounded.");
        return;
    }
    write_device_curves(c, devices);
    c.page.paragraph("The device that is fastest opens first, then the fastest of the others with "
                     "the current that is left; the times add. A fuse opens its line; the earth "
                     "path stays joined.");
    OpeningsWriter(c, place, side).run();
    const auto margin = side.predicted_margin.has_value() ? side.predicted_margin : side.margin;
    if (margin.has_value()) {
        c.page.paragraph("The margin is the number by which every current could be divided and the "
                         "whole still open within the limit: " +
                         written((*margin).value()) + ".");
        WorkingLines lines;
        const Term limit =
            lines.line("Zs limit", "margin * Zs",
                       Term((*margin).value()) * Term((*side.zs_high).value()), "ohm");
        lines.put_on(c.page);
        must_agree(limit.value(), (*side.zs_limit).value(), "the loop limit");
    }
}

} // namespace loopwalk::report
