// Latin letters of Europe as plain ones: names of fields and recorded words are compared so.
#include "vocabulary.hpp"
#include <array>
#include <cctype>

namespace loopwalk::draft {

namespace {

struct Letter {
    std::string_view accented; ///< UTF-8
    std::string_view plain;
};

// Small and capital letters of Latin-1 and Latin Extended-A in the languages of Europe.
constexpr std::array kLetters{
    Letter{"à", "a"},  Letter{"á", "a"},  Letter{"â", "a"}, Letter{"ã", "a"},  Letter{"ä", "a"},
    Letter{"å", "a"},  Letter{"ą", "a"},  Letter{"À", "a"}, Letter{"Á", "a"},  Letter{"Â", "a"},
    Letter{"Ä", "a"},  Letter{"Å", "a"},  Letter{"Ą", "a"}, Letter{"æ", "ae"}, Letter{"Æ", "ae"},
    Letter{"ç", "c"},  Letter{"Ç", "c"},  Letter{"ć", "c"}, Letter{"Ć", "c"},  Letter{"č", "c"},
    Letter{"Č", "c"},  Letter{"ď", "d"},  Letter{"è", "e"}, Letter{"é", "e"},  Letter{"ê", "e"},
    Letter{"ë", "e"},  Letter{"ę", "e"},  Letter{"ě", "e"}, Letter{"È", "e"},  Letter{"É", "e"},
    Letter{"Ê", "e"},  Letter{"Ę", "e"},  Letter{"ì", "i"}, Letter{"í", "i"},  Letter{"î", "i"},
    Letter{"ï", "i"},  Letter{"Í", "i"},  Letter{"ł", "l"}, Letter{"Ł", "l"},  Letter{"ñ", "n"},
    Letter{"Ñ", "n"},  Letter{"ń", "n"},  Letter{"Ń", "n"}, Letter{"ň", "n"},  Letter{"ò", "o"},
    Letter{"ó", "o"},  Letter{"ô", "o"},  Letter{"õ", "o"}, Letter{"ö", "o"},  Letter{"ø", "o"},
    Letter{"ő", "o"},  Letter{"Ó", "o"},  Letter{"Ô", "o"}, Letter{"Ö", "o"},  Letter{"Ø", "o"},
    Letter{"œ", "oe"}, Letter{"ř", "r"},  Letter{"ś", "s"}, Letter{"Ś", "s"},  Letter{"š", "s"},
    Letter{"Š", "s"},  Letter{"ß", "ss"}, Letter{"ť", "t"}, Letter{"ù", "u"},  Letter{"ú", "u"},
    Letter{"û", "u"},  Letter{"ü", "u"},  Letter{"ů", "u"}, Letter{"ű", "u"},  Letter{"Ú", "u"},
    Letter{"Ü", "u"},  Letter{"ý", "y"},  Letter{"ź", "z"}, Letter{"ż", "z"},  Letter{"ž", "z"},
    Letter{"Ź", "z"},  Letter{"Ż", "z"},  Letter{"Ž", "z"}};

const Letter* letter_at(std::string_view text) {
    for (const Letter& letter : kLetters)
        if (text.starts_with(letter.accented))
            return &letter;
    return nullptr;
}

} // namespace

std::string plain_letters(std::string_view text) {
    std::string result;
    while (!text.empty()) {
        const auto c = static_cast<unsigned char>(text.front());
        std::size_t used = 1;
        if (std::isalnum(c) != 0 && c < 0x80U) {
            result += static_cast<char>(std::tolower(c));
        } else if (const Letter* letter = c < 0x80U ? nullptr : letter_at(text)) {
            result += letter->plain;
            used = letter->accented.size();
        } else {
            result += ' ';
        }
        text.remove_prefix(used);
    }
    return result;
}

} // namespace loopwalk::draft
