// Numbers together with the way they are written, so that a line of working and its result cannot
// disagree: each operation does the sum and writes it down.
#pragma once

#include "loopwalk/report/page.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace loopwalk::report {

/// A number as it stands on a page: as recorded if five digits say it exactly, else with six.
[[nodiscard]] std::string written(double value);
/// With seven decimals, where a small difference of large numbers follows.
[[nodiscard]] std::string written_fine(double value);

/// A value and the reckoning that leads to it.
class Term {
  public:
    /// A number that stands on the page already.
    // Implicit on purpose: constants of formulas are terms.
    // NOLINTNEXTLINE(google-explicit-constructor)
    Term(double value);
    /// With more digits, where a small difference of large numbers follows.
    [[nodiscard]] static Term fine(double value);

    /// Exact, not as written.
    [[nodiscard]] double value() const noexcept { return m_value; }
    /// The reckoning as it is written: "0.35 + 0.274".
    [[nodiscard]] const std::string& text() const noexcept { return m_text; }
    /// A number by itself, no reckoning.
    [[nodiscard]] bool is_plain() const noexcept { return m_binds == Binds::number; }

    friend Term operator+(const Term& a, const Term& b);
    friend Term operator-(const Term& a, const Term& b);
    friend Term operator*(const Term& a, const Term& b);
    friend Term operator/(const Term& a, const Term& b);
    friend Term power(const Term& base, const Term& exponent);
    friend Term magnitude(const Term& real, const Term& imaginary);
    friend Term logarithm(const Term& of);
    friend Term largest(const std::vector<Term>& of);
    friend Term smallest(const std::vector<Term>& of);

  private:
    enum class Binds : std::uint8_t { sum, product, power, number };
    Term(double value, std::string text, Binds binds);
    [[nodiscard]] std::string inside(Binds needed) const;

    double m_value = 0.0;
    std::string m_text;
    Binds m_binds = Binds::number;
};

/// The sum, written as one.
[[nodiscard]] Term operator+(const Term& a, const Term& b);
/// The difference; a sum behind the sign stands in brackets.
[[nodiscard]] Term operator-(const Term& a, const Term& b);
/// The product; sums stand in brackets.
[[nodiscard]] Term operator*(const Term& a, const Term& b);
/// The quotient; what is not a number stands in brackets below the line.
[[nodiscard]] Term operator/(const Term& a, const Term& b);
/// `base` to the power of `exponent`.
[[nodiscard]] Term power(const Term& base, const Term& exponent);
/// sqrt(r^2 + x^2)
[[nodiscard]] Term magnitude(const Term& real, const Term& imaginary);
/// Natural logarithm, written "log(...)".
[[nodiscard]] Term logarithm(const Term& of);
/// Precondition of both: at least one.
[[nodiscard]] Term largest(const std::vector<Term>& of);
/// Precondition: at least one.
[[nodiscard]] Term smallest(const std::vector<Term>& of);

/// Lines of working one under the other.
class WorkingLines {
  public:
    /// "name = formula = numbers = result unit"; the result, to reckon on with. A formula may be
    /// empty, and numbers that are a single number are written once.
    Term line(const std::string& name, const std::string& formula, const Term& numbers,
              const std::string& unit);
    /// Adds the lines to a page, if there are any.
    void put_on(Page& page);

  private:
    Working m_working;
};

/// Throws InternalError naming `what` unless a worked figure is the one that was computed.
void must_agree(double worked, double computed, const char* what);

} // namespace loopwalk::report
