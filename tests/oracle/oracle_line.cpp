#include "oracle/oracle_line.hpp"

#include "loopwalk/base/text.hpp"

#include <cmath>
#include <stdexcept>

namespace loopwalk::oracle {

namespace {

/// Parts between `separator`s; those inside double quotes do not part, and the quotes stay.
std::vector<std::string> parts_of(std::string_view text, char separator) {
    std::vector<std::string> parts(1);
    bool quoted = false;
    for (const char c : text) {
        if (c == '"') {
            quoted = !quoted;
        }
        if (c == separator && !quoted) {
            parts.emplace_back();
        } else {
            parts.back() += c;
        }
    }
    if (quoted) {
        throw std::runtime_error("a quote is never closed");
    }
    for (std::string& part : parts) {
        part = base::trimmed(part);
    }
    return parts;
}

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words;
    for (const std::string& part : parts_of(text, ' ')) {
        if (part.empty()) {
            continue;
        }
        const bool is_quoted = part.size() >= 2 && part.front() == '"' && part.back() == '"';
        words.push_back(is_quoted ? part.substr(1, part.size() - 2) : part);
    }
    return words;
}

double number_in(std::string_view text) {
    const auto value = base::parse_number(text);
    if (!value) {
        throw std::runtime_error("'" + std::string(text) + "' is not a number");
    }
    return *value;
}

double tolerance_of(std::string_view text, double expected) {
    const std::vector<std::string> words = words_of(text);
    if (words.size() == 1 && words[0] == "exact") {
        return std::fabs(expected) * 1e-12;
    }
    if (words.size() == 2 && (words[0] == "print" || words[0] == "abs")) {
        return number_in(words[1]) * (1.0 + 1e-9); // a value just on the edge still counts
    }
    if (words.size() == 2 && words[0] == "rel" && words[1].ends_with('%')) {
        return std::fabs(expected) * number_in(words[1].substr(0, words[1].size() - 1)) / 100.0;
    }
    throw std::runtime_error("the tolerance '" + std::string(text) +
                             "' is none of: exact, print H, abs A, rel P%");
}

double computed(const std::string& text, const Calls& calls) {
    std::vector<std::string> words = words_of(text);
    const auto call = words.empty() ? calls.end() : calls.find(words[0]);
    if (call == calls.end()) {
        throw std::runtime_error("no call named '" + (words.empty() ? text : words[0]) + "'");
    }
    words.erase(words.begin());
    return call->second(words);
}

std::string disagreement(const std::string& line, const Calls& calls) {
    const std::vector<std::string> parts = parts_of(line, '|');
    if (parts.size() != 4) {
        throw std::runtime_error("a line has four parts: call | value | tolerance | source");
    }
    if (parts[3].empty()) {
        throw std::runtime_error("the source is missing");
    }
    const double expected = number_in(parts[1]);
    const double tolerance = tolerance_of(parts[2], expected);
    const double value = computed(parts[0], calls);
    if (std::fabs(value - expected) <= tolerance) {
        return "";
    }
    return parts[0] + " gives " + base::number_text(value) + ", the source says " + parts[1] +
           " (" + parts[2] + "; " + parts[3] + ")";
}

} // namespace

LineResult check_line(std::string_view line, const Calls& calls) {
    const std::string text(base::trimmed(line));
    if (text.empty() || text.front() == '#') {
        return {};
    }
    try {
        std::string complaint = disagreement(text, calls);
        return {complaint.empty() ? LineKind::agrees : LineKind::complaint, complaint};
    } catch (const std::exception& e) {
        return {LineKind::complaint, std::string(e.what()) + ": " + text};
    }
}

} // namespace loopwalk::oracle
