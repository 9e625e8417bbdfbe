#include "loopwalk/report/term.hpp"

#include "loopwalk/base/error.hpp"
#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <cmath>

namespace loopwalk::report {
namespace {

constexpr int kExactDigits = 5;
constexpr int kDigits = 6;
constexpr int kFineDecimals = 7;
constexpr double kAgreement = 1e-9; // relative; the same formulas in another order

/// Decimals that give a number so many significant digits.
int decimals_for(double value, int digits) {
    if (!std::isfinite(value)) {
        throw base::InternalError("a figure on a page is not a number");
    }
    const double size = std::abs(value);
    const int before = size > 0.0 ? static_cast<int>(std::floor(std::log10(size))) + 1 : 1;
    return std::max(0, digits - before);
}

/// The shortest text if it is exact, else so many decimals.
std::string exact_or_rounded(double value, int decimals) {
    if (!std::isfinite(value)) {
        throw base::InternalError("a figure on a page is not a number");
    }
    const std::string brief = base::short_text(value, kExactDigits);
    return base::parse_number(brief) == value ? brief : base::fixed_text(value, decimals);
}

} // namespace

std::string written(double value) {
    // Rounding may add a digit before the point (9.999999 to 10.00000): that does no harm.
    return exact_or_rounded(value, decimals_for(value, kDigits));
}

std::string written_fine(double value) {
    return exact_or_rounded(value, kFineDecimals);
}

Term::Term(double value) : m_value(value), m_text(written(value)) {}

Term::Term(double value, std::string text, Binds binds)
    : m_value(value), m_text(std::move(text)), m_binds(binds) {}

Term Term::fine(double value) {
    return {value, written_fine(value), Binds::number};
}

std::string Term::inside(Binds needed) const {
    const bool is_negative = m_binds == Binds::number && m_text.front() == '-';
    return m_binds < needed || (is_negative && needed > Binds::sum) ? "(" + m_text + ")" : m_text;
}

Term operator+(const Term& a, const Term& b) {
    return {a.m_value + b.m_value,
            a.inside(Term::Binds::sum) + " + " +
                b.inside(b.m_text.front() == '-' ? Term::Binds::number : Term::Binds::sum),
            Term::Binds::sum};
}

Term operator-(const Term& a, const Term& b) {
    return {a.m_value - b.m_value,
            a.inside(Term::Binds::sum) + " - " + b.inside(Term::Binds::product), Term::Binds::sum};
}

Term operator*(const Term& a, const Term& b) {
    return {a.m_value * b.m_value,
            a.inside(Term::Binds::product) + " * " + b.inside(Term::Binds::product),
            Term::Binds::product};
}

Term operator/(const Term& a, const Term& b) {
    return {a.m_value / b.m_value,
            a.inside(Term::Binds::product) + " / " + b.inside(Term::Binds::power),
            Term::Binds::product};
}

Term power(const Term& base, const Term& exponent) {
    return {std::pow(base.m_value, exponent.m_value),
            base.inside(Term::Binds::number) + "^" + exponent.inside(Term::Binds::number),
            Term::Binds::power};
}

Term magnitude(const Term& real, const Term& imaginary) {
    return {std::hypot(real.m_value, imaginary.m_value),
            "sqrt(" + power(real, 2.0).m_text + " + " + power(imaginary, 2.0).m_text + ")",
            Term::Binds::number};
}

Term logarithm(const Term& of) {
    return {std::log(of.m_value), "log(" + of.m_text + ")", Term::Binds::number};
}

namespace {

std::string listed(const std::vector<Term>& terms) {
    std::string text;
    for (const Term& term : terms) {
        text += (text.empty() ? "" : ", ") + term.text();
    }
    return text;
}

bool is_less(const Term& a, const Term& b) {
    return a.value() < b.value();
}

} // namespace

Term largest(const std::vector<Term>& of) {
    const auto most = std::ranges::max_element(of, is_less);
    return of.size() == 1 ? *most
                          : Term(most->m_value, "max(" + listed(of) + ")", Term::Binds::number);
}

Term smallest(const std::vector<Term>& of) {
    const auto least = std::ranges::min_element(of, is_less);
    return of.size() == 1 ? *least
                          : Term(least->m_value, "min(" + listed(of) + ")", Term::Binds::number);
}

Term WorkingLines::line(const std::string& name, const std::string& formula, const Term& numbers,
                        const std::string& unit) {
    const std::string result = written(numbers.value());
    std::string text = name;
    text += formula.empty() ? "" : " = " + formula;
    text += numbers.text() == result ? "" : " = " + numbers.text();
    text += " = " + result;
    text += unit.empty() ? "" : " " + unit;
    m_working.lines.push_back(std::move(text));
    return numbers.value();
}

void WorkingLines::put_on(Page& page) {
    if (!m_working.lines.empty()) {
        page.add(std::move(m_working));
        m_working = {};
    }
}

void must_agree(double worked, double computed, const char* what) {
    const double size = std::max(std::abs(worked), std::abs(computed));
    if (!(std::abs(worked - computed) <= kAgreement * size)) {
        throw base::InternalError("the working of " + std::string(what) + " comes to " +
                                  base::number_text(worked) + ", the figure is " +
                                  base::number_text(computed));
    }
}

} // namespace loopwalk::report
