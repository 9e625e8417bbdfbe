// The heat of a fault at a column in its earth path, worked where it is a plain sum.
#include "loopwalk/base/text.hpp"
#include "loopwalk/catalogue/curve.hpp"

#include "column_sides.hpp"
#include <cmath>
#include <optional>

namespace loopwalk::report {
namespace {

using base::ColumnId;
using protection::HeatCheck;
using protection::Judgement;
using protection::Verdict;

/// The conductor that the earth path of a type is; null where it is two of them or none.
const catalogue::Conductor* earth_conductor(const catalogue::CableType& type) {
    switch (type.earth_path) {
    case catalogue::EarthPath::armour:
        return &*type.armour;
    case catalogue::EarthPath::cpc:
        return &*type.cpc;
    case catalogue::EarthPath::neutral:
        return &*type.neutral;
    case catalogue::EarthPath::armour_and_cpc:
    case catalogue::EarthPath::none:
        break;
    }
    return nullptr;
}

bool is_same(double a, double b) {
    constexpr double kRounding = 1e-9;
    return std::abs(a - b) <= kRounding * std::max(std::abs(a), std::abs(b));
}

/// A figure that goes into the lines: where it comes from stands above them.
struct Figure {
    std::string sentence;
    std::string name, formula;
    Term value;
    [[nodiscard]] Term write(WorkingLines& lines) const {
        return lines.line(name, formula, value, "A2s");
    }
};

/// k^2 S^2 as the product it is, or given where a range or a share stands behind it.
Figure survived_by(const Context& c, const HeatCheck& check) {
    const base::CableId cable = c.net().snapped.sections[check.section.index()].cable;
    const base::CableTypeId type = c.layers().cables[cable.index()].type.type;
    const catalogue::Conductor* conductor =
        type.is_valid() ? earth_conductor(c.results.catalogue.cable(type)) : nullptr;
    if (conductor != nullptr && conductor->k.has_value() && conductor->csa.has_value()) {
        const Term k((*conductor->k).value());
        const Term area((*conductor->csa).value());
        const Term product = power(k, 2.0) * power(area, 2.0);
        if (is_same(product.value(), check.survived.value())) {
            return {"By the catalogue it has k " + k.text() + " A s^0.5/mm2 and S " + area.text() +
                        " mm2.",
                    "k^2 S^2", "k^2 * S^2", product};
        }
    }
    return {"By the catalogue it survives " + written(check.survived.value()) + " A2s.", "k^2 S^2",
            "", Term(check.survived.value())};
}

/// Currents at which the fault may be, in amperes.
std::vector<double> currents(const Context& c, ColumnId id, const Judgement& judgement) {
    const figures::ColumnFigures& figures = c.results.figures.columns[id.index()];
    std::vector<double> found;
    if (judgement.heat_check.is_largest && figures.pscc_high_ka.has_value()) {
        found.push_back(1000.0 * (*figures.pscc_high_ka).value());
    }
    const double u = c.rules().cmin * c.source_of(figures.infeed)->u0.value();
    for (const auto& zs : {judgement.zs_high, judgement.zs_low}) {
        if (zs.has_value() && (*zs).value() > 0.0) {
            found.push_back(u / (*zs).value());
        }
    }
    return found;
}

/// I2t of one device, if its slow edge gives it at one of the currents, or at the largest of its
/// table.
std::optional<Figure> passed_by(const protection::DeviceChoices& device,
                                const std::vector<double>& candidates, double passed) {
    if (device.any_of.size() != 1 || device.any_of.front().edges.late == nullptr) {
        return std::nullopt;
    }
    const auto product = [](double amperes, base::Second time, const std::string& sentence) {
        const Term i(amperes);
        const Term t(time.value());
        return Figure{sentence + " " + i.text() + " A for " + t.text() + " s.", "I2t", "I^2 * t",
                      power(i, 2.0) * t};
    };
    const auto is_it = [passed](double amperes, base::Second time) {
        return is_same(std::pow(amperes, 2.0) * time.value(), passed);
    };
    const auto& slow = *device.any_of.front().edges.late;
    for (const double amperes : candidates) {
        const auto time = catalogue::slow_time(slow, base::Ampere(amperes));
        if (base::Ampere(amperes) <= slow.back().current && is_it(amperes, time.time)) {
            return product(amperes, time.time, "By the slow edge of the device the current flows:");
        }
    }
    const catalogue::CurvePoint& last = slow.back();
    if (is_it(last.current.value(), last.time)) {
        return product(last.current.value(), last.time,
                       "A larger current lets no more through than the last point of the device's "
                       "slow edge:");
    }
    return std::nullopt;
}

Figure passed_by(Context& c, ColumnId id, const Judgement& judgement) {
    const double passed = judgement.heat_check.passed.value();
    const base::DeviceId device = c.results.figures.columns[id.index()].device;
    if (device.is_valid()) {
        const auto candidates = currents(c, id, judgement);
        for (const protection::DeviceChoices* one : c.judge.devices().series(device)) {
            if (auto worked = passed_by(*one, candidates, passed); worked.has_value()) {
                return *worked;
            }
        }
    }
    return {"The device lets through " + written(passed) + " A2s.", "I2t", "", Term(passed)};
}

} // namespace

void write_heat(Context& c, ColumnId id, const Judgement& judgement) {
    if (judgement.heat == Verdict::none) {
        return;
    }
    const HeatCheck& check = judgement.heat_check;
    const base::CableId cable = c.net().snapped.sections[check.section.index()].cable;
    c.page.heading("Heat of the earth path");
    c.page.paragraph(
        "k^2 S^2 must be no less than the I2t that the device lets through (BS 7671:2018+A2 reg "
        "543.1.3), for the weakest earth path on the way, at the smallest and at the largest "
        "current here. The worst is the earth path of cable " +
        c.text(c.layers().cables[cable.index()].id) +
        (check.is_largest ? ", at the largest current." : ", at the smallest current."));
    const bool is_bounded = std::isfinite(check.passed.value()) && check.passed.value() > 0.0 &&
                            std::isfinite(check.survived.value()) && check.survived.value() > 0.0;
    if (is_bounded) {
        const Figure survives = survived_by(c, check);
        const Figure passes = passed_by(c, id, judgement);
        c.page.paragraph(survives.sentence + " " + passes.sentence);
        WorkingLines lines;
        const Term survived = survives.write(lines);
        const Term passed = passes.write(lines);
        const Term ratio = lines.line("share", "I2t / k^2 S^2", passed / survived, "");
        must_agree(ratio.value(), check.ratio(), "the heat of the earth path");
        lines.put_on(c.page);
    } else {
        c.page.paragraph("Nothing bounds the I2t, or what the earth path survives.");
    }
    c.page.paragraph("Verdict: " + verdict_text(judgement.heat) +
                     (judgement.heat == Verdict::undecided
                          ? " (" + checks::reason_text(check.reason) + ")."
                          : "."));
}

} // namespace loopwalk::report
