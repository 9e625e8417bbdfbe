// A device against a loop: its points, the current it needs within the limit, the loop that allows,
// and its time at the smallest current.
#include "loopwalk/base/text.hpp"

#include "parts.hpp"
#include <set>

namespace loopwalk::report {
namespace {

using base::Ampere;
using base::Second;
using catalogue::CurvePoint;
using protection::DeviceChoice;
using Curve = std::vector<CurvePoint>;

std::string choice_name(const DeviceChoice& choice) {
    return choice.type->name + " " + written(choice.rating.value()) + " A";
}

/// Name of a curve among those of the type: "BS 88-2 16 A slow edge".
std::string curve_name(const DeviceChoice& choice, const Curve* curve) {
    for (const catalogue::FuseRating& rating : choice.type->ratings) {
        if (curve == &rating.slow || curve == &rating.fast) {
            return choice.type->name + " " + written(rating.rating.value()) +
                   (curve == &rating.slow ? " A slow edge" : " A fast edge");
        }
    }
    return choice.type->name;
}

void write_curve(Context& c, const DeviceChoice& choice, const Curve& curve) {
    c.page.paragraph("Points of " + curve_name(choice, &curve) + ":");
    Table table{{{"current A", Align::number}, {"time s", Align::number}}, {}};
    for (const CurvePoint& point : curve) {
        table.rows.push_back({written(point.current.value()), written(point.time.value())});
    }
    c.page.add(std::move(table));
}

/// y on the straight line through two points on log-log paper.
Term on_chord(const Term& x, double x0, double y0, double x1, double y1) {
    return Term(y0) *
           power(Term(y1) / Term(y0), logarithm(x / Term(x0)) / logarithm(Term(x1) / Term(x0)));
}

std::optional<Term> write_current(WorkingLines& lines, const Curve& curve, Second limit,
                                  const std::string& name) {
    const auto at = catalogue::stretch_within(curve, limit);
    if (!at.has_value()) {
        return std::nullopt;
    }
    const CurvePoint& faster = *at->faster;
    if (!at->is_chord()) {
        return lines.line(name, "point of the table", Term(faster.current.value()), "A");
    }
    return lines.line(name, "log-log between two points",
                      on_chord(Term(limit.value()), at->slower->time.value(),
                               at->slower->current.value(), faster.time.value(),
                               faster.current.value()),
                      "A");
}

std::optional<Term> write_time(WorkingLines& lines, const Curve& curve, const Term& current,
                               const std::string& name) {
    const auto at = catalogue::stretch_at(curve, Ampere(current.value()));
    if (!at.has_value()) {
        return std::nullopt;
    }
    const CurvePoint& below = *at->slower;
    if (!at->is_chord()) {
        const bool beyond = current.value() > below.current.value();
        return lines.line(name, beyond ? "at most the table's shortest" : "point of the table",
                          Term(below.time.value()), "s");
    }
    return lines.line(name, "log-log between two points",
                      on_chord(current, below.current.value(), below.time.value(),
                               at->faster->current.value(), at->faster->time.value()),
                      "s");
}

/// What a device can be, in a sentence.
std::string identity(const protection::DeviceChoices& device) {
    if (device.any_of.empty()) {
        return "Its rating is not recorded: nothing can be said of it.";
    }
    if (device.type_missing || device.rating_missing) {
        std::vector<std::string> names;
        for (const DeviceChoice& choice : device.any_of) {
            names.push_back(choice_name(choice));
        }
        return std::string("Its ") + (device.type_missing ? "type" : "rating") +
               " is not recorded: it may be " + base::listed(names, names.size()) +
               ". It meets the limit for sure only if the slowest of them does.";
    }
    const std::string name = choice_name(device.any_of.front());
    return device.curve_missing
               ? "The catalogue has no curve of its own for " + name +
                     ": the slow edge of the next larger rating bounds it from above, the early "
                     "edge of the next smaller from below."
               : "It is a " + name + ".";
}

class DutyWriter {
  public:
    DutyWriter(Context& c, const Duty& duty)
        : m_c(c), m_duty(duty), m_u0(duty.source.u0.value()), m_cmin(c.rules().cmin) {}

    DutyFigures run() {
        m_c.page.paragraph("Device: " + m_duty.name + ". " + identity(m_duty.device));
        m_c.page.paragraph("Limit: " + written(m_duty.limit.value()) + " s, " + m_duty.limit_text +
                           ".");
        if (m_duty.device.any_of.empty()) {
            return m_figures;
        }
        write_device_curves(m_c, {&m_duty.device});
        m_c.page.paragraph("Ia is the current that opens it within the limit, on the slow edge. "
                           "Between two points (I1, t1) and (I2, t2) the line is straight on "
                           "log-log paper: I = I1 * (I2 / I1)^(log(t / t1) / log(t2 / t1)).");
        needed();
        if (m_duty.loop.zs_high.has_value()) {
            time();
        }
        m_lines.put_on(m_c.page);
        for (const std::string& note : m_notes) {
            m_c.page.paragraph(note);
        }
        return m_figures;
    }

  private:
    void needed();
    void time();
    [[nodiscard]] std::string named(const std::string& what, const DeviceChoice& choice,
                                    bool edges) const;

    Context& m_c;
    const Duty& m_duty;
    Term m_u0, m_cmin;
    WorkingLines m_lines;
    std::vector<std::string> m_notes;
    DutyFigures m_figures;
};

std::string DutyWriter::named(const std::string& what, const DeviceChoice& choice,
                              bool edges) const {
    const bool several = m_duty.device.any_of.size() > 1;
    return what + (several ? " (" + choice_name(choice) + ")" : "") + (edges ? " early" : "");
}

/// Ia for sure and perhaps, and the loops that they allow.
void DutyWriter::needed() {
    std::vector<Term> late;
    std::vector<Term> early;
    for (const DeviceChoice& choice : m_duty.device.any_of) {
        const auto& edges = choice.edges;
        if (edges.late != nullptr) {
            if (const auto ia =
                    write_current(m_lines, *edges.late, m_duty.limit, named("Ia", choice, false))) {
                late.push_back(*ia);
            }
        }
        if (edges.early == edges.late && !late.empty()) {
            early.push_back(late.back());
        } else if (edges.early != nullptr) {
            if (const auto ia =
                    write_current(m_lines, *edges.early, m_duty.limit, named("Ia", choice, true))) {
                early.push_back(*ia);
            }
        }
    }
    const std::size_t count = m_duty.device.any_of.size();
    if (late.size() < count) {
        m_notes.emplace_back("The tables give no current for this limit: what it needs for sure "
                             "is not known.");
    } else {
        const Term ia = late.size() == 1
                            ? late.front()
                            : m_lines.line("Ia", "largest of them", largest(late), "A");
        const Term limit = m_lines.line("Zs limit", "Cmin * U0 / Ia", m_cmin * m_u0 / ia, "ohm");
        m_figures.zs_limit = base::Ohm(limit.value());
        if (m_duty.loop.zs_high.has_value()) {
            const Term margin =
                m_lines.line("margin", "Zs limit / Zs", limit / *m_duty.loop.zs_high, "");
            m_figures.margin = base::Number(margin.value());
        }
    }
    const bool differs = count > 1 || m_duty.device.curve_missing;
    if (differs && early.size() == count && m_duty.loop.zs_low.has_value()) {
        const Term ia = m_lines.line("Ia at least", "smallest of them", smallest(early), "A");
        m_lines.line("Zs that no choice clears, above", "Cmin * U0 / Ia at least",
                     m_cmin * m_u0 / ia, "ohm");
    }
}

/// Its time at the smallest current, an upper bound.
void DutyWriter::time() {
    const Term current =
        m_lines.line("I smallest", "Cmin * U0 / Zs", m_cmin * m_u0 / *m_duty.loop.zs_high, "A");
    const auto longest = write_device_time(m_lines, m_duty.device, current, "t");
    if (longest.has_value()) {
        m_figures.clear = Second(longest->value());
    } else {
        m_notes.push_back("At " + written(current.value()) +
                          " A it is not within the table: below the lowest point no time is read "
                          "off.");
    }
}

} // namespace

/// Each curve once, in the order of the devices and choices.
void write_device_curves(Context& c, const std::vector<const protection::DeviceChoices*>& devices) {
    std::set<const Curve*> told;
    for (const protection::DeviceChoices* device : devices) {
        for (const DeviceChoice& choice : device->any_of) {
            for (const Curve* curve : {choice.edges.late, choice.edges.early}) {
                if (curve != nullptr && told.insert(curve).second) {
                    write_curve(c, choice, *curve);
                }
            }
        }
    }
}

std::optional<Term> write_device_time(WorkingLines& lines, const protection::DeviceChoices& device,
                                      const Term& current, const std::string& name) {
    std::vector<Term> times;
    for (const DeviceChoice& choice : device.any_of) {
        const bool several = device.any_of.size() > 1;
        const std::string label = several ? name + " (" + choice_name(choice) + ")" : name;
        const auto time = choice.edges.late != nullptr
                              ? write_time(lines, *choice.edges.late, current, label)
                              : std::nullopt;
        if (!time.has_value()) {
            return std::nullopt;
        }
        times.push_back(*time);
    }
    if (times.size() < 2) {
        return times.empty() ? std::nullopt : std::optional(times.front());
    }
    return lines.line(name, "longest of them", largest(times), "s");
}

DutyFigures write_duty(Context& c, const Duty& duty) {
    return DutyWriter(c, duty).run();
}

} // namespace loopwalk::report
