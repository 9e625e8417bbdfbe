// The earth of a TT column: electrodes and protective conductor, worked line by line.
#include "tt_part.hpp"

#include "loopwalk/figures/tt_earth.hpp"

namespace loopwalk::report {

using figures::TtEarthRecord;
using impedance::EarthPathState;

void write_tt_record(Context& c, base::ColumnId id) {
    const TtEarthRecord record = c.judge.facts().tt_record(id);
    const auto ohms = [](const base::Maybe<base::Ohm>& electrode) {
        return electrode.has_value() ? written((*electrode).value()) + " ohm"
                                     : std::string("not recorded");
    };
    const char* path =
        record.path == EarthPathState::intact ? "reaches it by an earth path"
        : record.path == EarthPathState::broken
            ? "does not reach it by the records"
            : "may reach it: the records do not tell whether the earth path is whole";
    c.page.paragraph("Electrode of the pillar: " + ohms(record.pillar) + "; it " + path +
                     (record.path == EarthPathState::broken
                          ? std::string(".")
                          : ", R2 hot " + written(record.path_ohms.low.value()) + " to " +
                                written(record.path_ohms.high.value()) + " ohm.") +
                     " Electrode of the column itself: " + ohms(record.own) +
                     ". Of both side by side the better one counts at the high bound.");
}

TtTerms write_tt_earth(WorkingLines& lines, const TtEarthRecord& record, const std::string& when) {
    TtTerms terms;
    if (record.own.has_value()) {
        terms.low = terms.high = Term((*record.own).value());
    }
    const bool reaches = record.path != EarthPathState::broken;
    if (reaches && (record.pillar.has_value() || record.own.has_value())) {
        const Term pillar = lines.line("Ra + R2 by the pillar (" + when + "low)", "electrode + R2",
                                       Term(record.pillar.value_or(base::Ohm(0.0)).value()) +
                                           Term(record.path_ohms.low.value()),
                                       "ohm");
        terms.low = pillar;
        if (record.own.has_value() && pillar.value() + (*record.own).value() > 0.0) {
            const Term own((*record.own).value());
            terms.low = lines.line("Ra + R2 (" + when + "low)", "both side by side",
                                   pillar * own / (pillar + own), "ohm");
        }
    }
    if (record.path == EarthPathState::intact && record.pillar.has_value()) {
        const Term pillar =
            lines.line("Ra + R2 by the pillar (" + when + "high)", "electrode + R2",
                       Term((*record.pillar).value()) + Term(record.path_ohms.high.value()), "ohm");
        if (!terms.high.has_value() || pillar.value() < terms.high->value()) {
            terms.high = pillar;
        }
    }
    return terms;
}

} // namespace loopwalk::report
