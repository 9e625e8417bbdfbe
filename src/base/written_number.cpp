#include "loopwalk/base/written_number.hpp"

#include "loopwalk/base/text.hpp"

#include <algorithm>
#include <string>
#include <vector>

namespace loopwalk::base {

namespace {

using State = WrittenNumber::State;

constexpr std::string_view kNoBreakSpace = "\xC2\xA0";
constexpr std::string_view kNarrowSpace = "\xE2\x80\xAF";
constexpr std::size_t kGroup = 3; // digits

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/// Spaces of typesetters become plain ones.
std::string with_plain_spaces(std::string_view text) {
    std::string result(text);
    for (const std::string_view space : {kNoBreakSpace, kNarrowSpace}) {
        for (std::size_t at = result.find(space); at != std::string::npos;
             at = result.find(space)) {
            result.replace(at, space.size(), " ");
        }
    }
    return result;
}

/// Where the digits with their separators end and a unit may begin.
std::size_t end_of_digits(std::string_view text) {
    std::size_t end = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (is_digit(c)) {
            end = i + 1;
        } else if (c != '.' && c != ',' && c != ' ' && c != '\'') {
            break;
        }
    }
    return end;
}

/// The pieces between the separators, and the separators.
struct Pieces {
    std::vector<std::string_view> digits;
    std::string marks;
};

Pieces split(std::string_view text) {
    Pieces pieces;
    std::size_t start = 0;
    for (std::size_t i = 0; i <= text.size(); ++i) {
        if (i < text.size() && is_digit(text[i])) {
            continue;
        }
        pieces.digits.push_back(text.substr(start, i - start));
        if (i < text.size()) {
            pieces.marks += text[i];
        }
        start = i + 1;
    }
    return pieces;
}

/// "1", "200", "300": a first group of one to three digits and full ones behind it.
bool are_groups(const Pieces& pieces, std::size_t count) {
    if (pieces.digits[0].empty() || pieces.digits[0].size() > kGroup) {
        return false;
    }
    for (std::size_t i = 1; i < count; ++i) {
        if (pieces.digits[i].size() != kGroup) {
            return false;
        }
    }
    return true;
}

double joined(const Pieces& pieces, std::size_t whole) {
    std::string text;
    for (std::size_t i = 0; i < whole; ++i) {
        text += pieces.digits[i];
    }
    if (whole < pieces.digits.size()) {
        text += "." + std::string(pieces.digits[whole]);
    }
    if (text.empty() || text.back() == '.') {
        text += "0";
    }
    return parse_number(text).value_or(0.0);
}

/// What a lone comma or point between digits is.
enum class Mark : std::uint8_t { decimal, group, either };

Mark meaning(char mark, const Pieces& pieces, DecimalMark convention) {
    const bool could_group =
        are_groups(pieces, 2) && pieces.digits[0].front() != '0'; // "0,125" is no group
    if (!could_group) {
        return Mark::decimal;
    }
    if (convention == DecimalMark::unstated) {
        return mark == '.' ? Mark::decimal : Mark::either; // a point is what programs write
    }
    const bool is_decimal = (mark == ',') == (convention == DecimalMark::comma);
    return is_decimal ? Mark::decimal : Mark::group;
}

WrittenNumber with_one_mark(const Pieces& pieces, DecimalMark convention) {
    WrittenNumber number;
    const char mark = pieces.marks[0];
    const bool is_space = mark == ' ' || mark == '\'';
    if (is_space && !are_groups(pieces, 2)) {
        return number;
    }
    const Mark what = is_space ? Mark::group : meaning(mark, pieces, convention);
    number.state = what == Mark::either ? State::ambiguous : State::number;
    number.has_groups = what == Mark::group;
    number.has_comma = what == Mark::decimal && mark == ',';
    number.value = joined(pieces, what == Mark::group ? 2 : 1);
    return number;
}

/// Several separators: all but perhaps the last are alike and group thousands.
WrittenNumber with_marks(const Pieces& pieces) {
    WrittenNumber number;
    const char first = pieces.marks.front();
    const char last = pieces.marks.back();
    const bool has_decimal = last != first;
    const std::size_t groups = pieces.marks.size() - (has_decimal ? 1 : 0);
    const bool alike = std::all_of(pieces.marks.begin(),
                                   pieces.marks.begin() + static_cast<std::ptrdiff_t>(groups),
                                   [first](char c) { return c == first; });
    const bool last_is_mark = last == '.' || last == ',';
    if (!alike || (has_decimal && !last_is_mark) || !are_groups(pieces, groups + 1)) {
        return number;
    }
    number.state = State::number;
    number.has_groups = true;
    number.has_comma = has_decimal && last == ',';
    number.value = joined(pieces, groups + 1);
    return number;
}

WrittenNumber read_digits(std::string_view text, DecimalMark mark) {
    WrittenNumber number;
    const Pieces pieces = split(text);
    const bool any = std::any_of(text.begin(), text.end(), is_digit);
    if (!any) {
        return number;
    }
    if (pieces.marks.size() == 1) {
        return with_one_mark(pieces, mark);
    }
    if (pieces.marks.size() > 1) {
        return with_marks(pieces);
    }
    number.state = State::number;
    number.value = joined(pieces, 1);
    return number;
}

WrittenNumber negated(WrittenNumber number) {
    number.value = -number.value;
    return number;
}

} // namespace

WrittenNumber read_written_number(std::string_view text, DecimalMark mark) {
    const std::string all = with_plain_spaces(trimmed(text));
    const std::string_view whole = trimmed(all);
    const auto plain = parse_number(whole);
    if (plain && (mark != DecimalMark::comma || whole.find('.') == std::string_view::npos)) {
        return {State::number, *plain, nullptr, false, false};
    }
    if (const auto area = strand_area_mm2(whole)) {
        return {State::number, *area, find_unit("mm2"), false, false};
    }
    const bool negative = whole.starts_with('-');
    std::string_view rest = whole;
    if (negative || rest.starts_with('+')) {
        rest.remove_prefix(1);
    }
    const std::size_t end = end_of_digits(rest);
    WrittenNumber number = read_digits(rest.substr(0, end), mark);
    const std::string_view unit = trimmed(rest.substr(end));
    if (number.state == State::none || unit.empty() || unit == ".") { // "12."
        return negative ? negated(number) : number;
    }
    number.unit = find_unit(unit);
    if (number.unit == nullptr) {
        return {};
    }
    return negative ? negated(number) : number;
}

} // namespace loopwalk::base
