// A page as plain text: parts one under the other, shortened until it fits.
#include "loopwalk/sheet/sheet.hpp"

#include <algorithm>

namespace loopwalk::sheet {
namespace {

constexpr std::size_t kIndent = 2;

/// Characters: bytes that do not continue one.
std::size_t shown_width(std::string_view text) {
    constexpr unsigned kContinues = 0x80U;
    constexpr unsigned kTopBits = 0xC0U;
    return static_cast<std::size_t>(std::ranges::count_if(
        text, [](char c) { return (static_cast<unsigned char>(c) & kTopBits) != kContinues; }));
}

/// Broken at blanks; lines after the first hang by kIndent.
void add_wrapped(std::vector<std::string>& lines, const std::string& text) {
    std::string line;
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::string word = text.substr(at, end - at);
        at = end + 1;
        if (!line.empty() && shown_width(line) + 1 + shown_width(word) > kWidth) {
            lines.push_back(line);
            line = std::string(kIndent, ' ') + word;
            continue;
        }
        line += (line.empty() ? "" : " ") + word;
    }
    lines.push_back(line);
}

/// "C O U N C I L"; as it is where that is too wide.
std::string spaced(const std::string& text) {
    std::string out;
    for (const char c : text) {
        out += out.empty() ? "" : " ";
        out += c == ' ' ? ' ' : c;
    }
    return out.size() > kWidth ? text : out;
}

void add_part(std::vector<std::string>& lines, const Part& part, std::size_t shown) {
    lines.push_back("-- " + part.heading + " " +
                    std::string(kWidth - 4 - std::min(kWidth - 4, shown_width(part.heading)), '-'));
    for (std::size_t i = 0; i < shown; ++i) {
        add_wrapped(lines, part.items[i]);
    }
    if (shown < part.items.size()) {
        lines.push_back("and " + std::to_string(part.items.size() - shown) + " more: see explain");
    }
}

std::vector<std::string> painted(const Sheet& sheet, const std::vector<std::size_t>& shown) {
    std::vector<std::string> lines{spaced(sheet.large)};
    add_wrapped(lines, sheet.title);
    add_wrapped(lines, std::string(purpose()));
    for (std::size_t p = 0; p < sheet.parts.size(); ++p) {
        add_part(lines, sheet.parts[p], shown[p]);
    }
    add_part(lines, {"", "Fill in by hand", sheet.blanks, 0}, sheet.blanks.size());
    std::string all;
    for (const std::string& caution : output::cautions()) {
        all += (all.empty() ? "" : " ") + caution;
    }
    add_part(lines, {"", "Cautions", {all}, 0}, 1);
    return lines;
}

/// The part that takes most lines of those that may still give some up; the last of equals.
std::size_t longest(const Sheet& sheet, const std::vector<std::size_t>& shown) {
    std::size_t found = sheet.parts.size();
    std::size_t most = 0;
    for (std::size_t p = 0; p < sheet.parts.size(); ++p) {
        if (shown[p] <= sheet.parts[p].keep) {
            continue;
        }
        std::vector<std::string> lines;
        add_part(lines, sheet.parts[p], shown[p]);
        if (lines.size() >= most) {
            most = lines.size();
            found = p;
        }
    }
    return found;
}

} // namespace

std::string as_text(const Sheet& sheet) {
    std::vector<std::size_t> shown;
    shown.reserve(sheet.parts.size());
    for (const Part& part : sheet.parts) {
        shown.push_back(part.items.size());
    }
    std::vector<std::string> lines = painted(sheet, shown);
    while (lines.size() > kLines) {
        const std::size_t part = longest(sheet, shown);
        if (part == sheet.parts.size()) {
            break; // what must stay is longer than a page: it stays
        }
        --shown[part];
        lines = painted(sheet, shown);
    }
    std::string text;
    for (const std::string& line : lines) {
        text += line + "\n";
    }
    return text;
}

} // namespace loopwalk::sheet
