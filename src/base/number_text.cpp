// Numbers in and out by <charconv>, which no locale can change.
#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace loopwalk::base {

namespace {

// The longest text: a sign, 309 digits, a point and the decimals of the smallest number.
constexpr int kMostDecimals = 60;
constexpr std::size_t kBufferSize = 1100;

template <class... Format>
std::string written(double value, Format... format) {
    std::array<char, kBufferSize> buffer{};
    const double plain = value == 0.0 ? 0.0 : value; // no "-0"
    const auto result = std::to_chars(buffer.data(), buffer.data() + kBufferSize, plain, format...);
    return {buffer.data(), result.ptr};
}

} // namespace

std::optional<double> parse_number(std::string_view text) noexcept {
    text = trimmed(text);
    if (text.size() > 1 && text[0] == '+' && text[1] != '-') {
        text.remove_prefix(1);
    }
    double value = 0.0;
    const char* const end = text.data() + text.size();
    const auto [stop, fault] = std::from_chars(text.data(), end, value);
    if (fault != std::errc() || stop != end || !std::isfinite(value)) {
        return std::nullopt;
    }
    return value;
}

std::string number_text(double value) {
    // Plain decimals where a person would write them, an exponent only far outside.
    const double size = std::fabs(value);
    if (size == 0.0 || (size >= 1e-6 && size < 1e15)) {
        return written(value, std::chars_format::fixed);
    }
    return written(value);
}

std::string fixed_text(double value, int decimals) {
    std::string text =
        written(value, std::chars_format::fixed, std::clamp(decimals, 0, kMostDecimals));
    if (text.front() == '-' && text.find_first_not_of("-0.") == std::string::npos) {
        text.erase(0, 1); // -0.001 with two decimals is 0.00
    }
    return text;
}

std::string short_text(double value, int digits) {
    if (!std::isfinite(value)) {
        return number_text(value);
    }
    const std::string rounded =
        written(value, std::chars_format::scientific, std::clamp(digits, 1, 17) - 1);
    return number_text(parse_number(rounded).value_or(value));
}

} // namespace loopwalk::base
