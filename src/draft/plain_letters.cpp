// Letters of many alphabets as plain ones: names of fields and recorded words are compared so.
#include "data_lines.hpp"
#include "vocabulary.hpp"
#include <cctype>
#include <map>

namespace loopwalk::draft {

// Defined in draft_data.cpp, which embed.cmake writes from data/*.txt.
extern const std::string_view kLettersTxt;

namespace {

using Letters = std::map<std::string_view, std::string, std::less<>>;

/// By the letter in UTF-8.
const Letters& letters() {
    static const Letters all = [] {
        Letters read;
        for_each_line(kLettersTxt, [&read](std::string_view line) {
            const auto [plain, list] = sides(line, ':');
            for (const std::string_view letter : pieces(list, ' ')) {
                read.emplace(letter, plain);
            }
        });
        return read;
    }();
    return all;
}

/// Bytes of the character that the text begins with.
std::size_t length_of_first(std::string_view text) {
    constexpr unsigned kMask = 0xc0;
    constexpr unsigned kContinuation = 0x80;
    std::size_t length = 1;
    while (length < text.size() &&
           (static_cast<unsigned char>(text[length]) & kMask) == kContinuation) {
        ++length;
    }
    return length;
}

} // namespace

std::string plain_letters(std::string_view text) {
    std::string result;
    while (!text.empty()) {
        const auto c = static_cast<unsigned char>(text.front());
        const std::size_t length = length_of_first(text);
        if (c < 0x80U) {
            result += std::isalnum(c) != 0 ? static_cast<char>(std::tolower(c)) : ' ';
        } else {
            const auto found = letters().find(text.substr(0, length));
            result += found == letters().end() ? " " : found->second;
        }
        text.remove_prefix(length);
    }
    return result;
}

} // namespace loopwalk::draft
