#include "loopwalk/base/text.hpp"

#include <algorithm>

namespace loopwalk::base {

namespace {

enum class Sign : std::uint8_t { character, any_one, any_run };

struct Token {
    Sign sign = Sign::character;
    std::string_view character; ///< one character of UTF-8
};

bool is_blank(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\v' || c == '\f';
}

/// Folded, with single blanks.
std::string evened(std::string_view text) {
    std::string result = folded(text);
    for (char& c : result) {
        c = is_blank(c) ? ' ' : c;
    }
    result.erase(std::unique(result.begin(), result.end(),
                             [](char a, char b) { return a == ' ' && b == ' '; }),
                 result.end());
    return result;
}

/// Bytes of the UTF-8 character that the text begins with.
std::size_t character_size(std::string_view text) {
    std::size_t size = 1;
    while (size < text.size() && (static_cast<unsigned char>(text[size]) & 0xC0U) == 0x80U) {
        ++size;
    }
    return size;
}

std::vector<Token> tokens_of(std::string_view pattern) {
    std::vector<Token> tokens;
    while (!pattern.empty()) {
        std::size_t size = character_size(pattern);
        Token token{Sign::character, pattern.substr(0, size)};
        if (pattern.starts_with("[*]") || pattern.starts_with("[?]")) {
            token.character = pattern.substr(1, 1);
            size = 3;
        } else if (pattern[0] == '*') {
            token.sign = Sign::any_run;
        } else if (pattern[0] == '?') {
            token.sign = Sign::any_one;
        }
        tokens.push_back(token);
        pattern.remove_prefix(size);
    }
    return tokens;
}

} // namespace

bool matches_pattern(std::string_view pattern, std::string_view text) {
    const std::string wanted = evened(pattern);
    const std::string whole = evened(text);
    const std::vector<Token> tokens = tokens_of(wanted);
    std::size_t token = 0;
    std::string_view rest = whole;
    std::string_view retry;
    std::size_t after_run = 0;
    bool has_run = false;
    while (!rest.empty()) {
        const std::size_t size = character_size(rest);
        if (token < tokens.size() && tokens[token].sign == Sign::any_run) {
            has_run = true;
            after_run = ++token;
            retry = rest;
        } else if (token < tokens.size() && (tokens[token].sign == Sign::any_one ||
                                             tokens[token].character == rest.substr(0, size))) {
            ++token;
            rest.remove_prefix(size);
        } else if (has_run) { // the run takes one character more
            retry.remove_prefix(character_size(retry));
            rest = retry;
            token = after_run;
        } else {
            return false;
        }
    }
    while (token < tokens.size() && tokens[token].sign == Sign::any_run) {
        ++token;
    }
    return token == tokens.size();
}

} // namespace loopwalk::base
