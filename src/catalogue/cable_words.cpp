// A text about a cable is evened out ("2 Core 6 sq.mm" becomes "2c 6mm2"), cut into words, and each
// word is looked up or read as a size or a number of cores.
#include "loopwalk/base/text.hpp"
#include "loopwalk/base/unit.hpp"
#include "loopwalk/catalogue/type_words.hpp"

#include "type_word_list.hpp"
#include <algorithm>
#include <array>
#include <cmath>

namespace loopwalk::catalogue {

namespace {

using Words = std::vector<std::string>;

/// Parted by blanks and marks; "/" only where it is not between digits ("7/.036", "xlpe/swa/pvc").
Words words_of(const std::string& text) {
    Words words;
    std::string word;
    const auto finish = [&] {
        if (!word.empty()) {
            words.push_back(word);
        }
        word.clear();
    };
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        const char next = i + 1 < text.size() ? text[i + 1] : ' ';
        const bool is_strand = c == '/' && !word.empty() &&
                               std::isdigit(static_cast<unsigned char>(word.back())) != 0 &&
                               (next == '.' || std::isdigit(static_cast<unsigned char>(next)) != 0);
        const bool is_mark = c == ' ' || c == '\t' || c == ';' || c == '(' || c == ')' ||
                             c == '[' || c == ']' || (c == ',' && next == ' ') ||
                             (c == '/' && !is_strand) || (c == '-' && !word.empty()) ||
                             (c == '.' && next == ' ');
        if (is_mark) {
            finish();
        } else {
            word += c == ',' ? '.' : c; // "2,5"
        }
    }
    finish();
    return words;
}

// Sizes of imperial cables, square inches (BS 480, BS 2004 before 1969).
constexpr std::array kImperialSizes{0.0015, 0.002, 0.003, 0.0045, 0.007, 0.01, 0.0145, 0.0225,
                                    0.04,   0.06,  0.1,   0.15,   0.2,   0.25, 0.3};
constexpr double kSquareInch = 25.4 * 25.4; // mm2

class Reader {
  public:
    CableWords read(const Words& words) {
        for (const std::string& word : words) {
            if (!by_meaning(word) && !by_cores(word) && !by_size(word) && !is_empty(word)) {
                m_result.left_over.push_back(word);
            }
        }
        return m_result;
    }

  private:
    CableWords m_result;

    template <class T>
    void state(T& member, T value) {
        m_result.contradicts = m_result.contradicts || (member != T{} && member != value);
        member = value;
    }
    /// The first insulation is that of the cores; PVC behind it is the sheath.
    void insulate(Insulation insulation) {
        if (m_result.insulation == Insulation::unstated) {
            m_result.insulation = insulation;
        } else if (insulation != Insulation::pvc && m_result.insulation != insulation) {
            m_result.contradicts = true;
        }
    }
    void size(double csa, SizeAs as) {
        m_result.contradicts =
            m_result.contradicts || (m_result.csa_mm2 && *m_result.csa_mm2 != csa);
        m_result.csa_mm2 = csa;
        m_result.size_as = as;
    }

    static bool is_empty(const std::string& word) {
        return type_word_list().idle_cable_words.contains(word);
    }

    bool by_meaning(const std::string& word) {
        const auto& words = type_word_list().cable_words;
        const auto found = words.find(word);
        if (found == words.end()) {
            return false;
        }
        const CableMeaning& meaning = found->second;
        if (meaning.insulation != Insulation::unstated) {
            insulate(meaning.insulation);
        }
        if (meaning.metal != Metal::unstated) {
            state(m_result.metal, meaning.metal);
        }
        if (meaning.construction != Construction::unstated) {
            state(m_result.construction, meaning.construction);
        }
        if (meaning.cores != 0) {
            state(m_result.cores, meaning.cores);
        }
        return true;
    }

    /// "2c", "3x2.5", "3g2.5mm2".
    bool by_cores(const std::string& word) {
        if (word.size() < 2 || std::isdigit(static_cast<unsigned char>(word[0])) == 0) {
            return false;
        }
        const int cores = word[0] - '0';
        if (word.substr(1) == "c" && cores > 0) {
            state(m_result.cores, cores);
            return true;
        }
        if ((word[1] != 'x' && word[1] != 'g') || cores == 0) {
            return false;
        }
        if (!by_size(word.substr(2))) {
            return false;
        }
        if (m_result.size_as == SizeAs::number) { // "3x2.5" speaks of mm2, whoever writes it
            m_result.size_as = SizeAs::mm2;
        }
        state(m_result.cores, cores);
        return true;
    }

    bool by_size(const std::string& word) {
        if (const auto area = base::strand_area_mm2(word)) {
            size(*area, SizeAs::imperial);
            return true;
        }
        std::string digits = word;
        const auto drop = [&](std::string_view ending) {
            const bool has = digits.ends_with(ending);
            if (has) {
                digits.resize(digits.size() - ending.size());
            }
            return has;
        };
        const bool in_mm2 = drop("mm2") || drop("mm");
        const bool in_inch = !in_mm2 && drop("in2");
        const auto number = base::parse_number(digits);
        if (!number || *number <= 0.0) {
            return false;
        }
        const bool is_imperial = !in_mm2 && std::find(kImperialSizes.begin(), kImperialSizes.end(),
                                                      *number) != kImperialSizes.end();
        if (in_inch || is_imperial) {
            size(*number * kSquareInch, SizeAs::imperial);
        } else {
            size(*number, in_mm2 ? SizeAs::mm2 : SizeAs::number);
        }
        return true;
    }
};

} // namespace

CableWords read_cable_words(std::string_view text) {
    return Reader().read(words_of(evened(text, type_word_list().cable_spellings)));
}

const std::vector<double>& made_sizes_mm2() {
    static const std::vector<double> sizes{0.5, 0.75, 1,  1.5, 2.5, 4,   6,   10,  16,  25,  35,
                                           50,  70,   95, 120, 150, 185, 240, 300, 400, 500, 630};
    return sizes;
}

} // namespace loopwalk::catalogue
