// A text about a cable is evened out ("2 Core 6 sq.mm" becomes "2c 6mm2"), cut into words, and each
// word is looked up or read as a size or a number of cores.
#include "loopwalk/base/text.hpp"
#include "loopwalk/base/unit.hpp"
#include "loopwalk/catalogue/type_words.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace loopwalk::catalogue {

namespace {

using Words = std::vector<std::string>;

struct Replacement {
    std::string_view from, to;
};

// In this order: longer phrases before their parts. Blanks on either side matter.
constexpr std::array kEvenOut{
    Replacement{"mm²", "mm2"},
    Replacement{"mm^2", "mm2"},
    Replacement{" sq. mm", "mm2"},
    Replacement{" sq.mm", "mm2"},
    Replacement{"sq.mm", "mm2"},
    Replacement{" sq mm", "mm2"},
    Replacement{"sqmm", "mm2"},
    Replacement{"mm sq", "mm2"},
    Replacement{"mmsq", "mm2"},
    Replacement{" mm", "mm"},
    Replacement{"qmm", "mm2"},
    Replacement{" sq. in", "in2"},
    Replacement{" sq.in", "in2"},
    Replacement{" sq in", "in2"},
    Replacement{"sqin", "in2"},
    Replacement{" square inch", "in2"},
    Replacement{"×", "x"},
    Replacement{" x ", "x"},
    Replacement{"*", "x"},
    Replacement{"twin & earth", "t+e"},
    Replacement{"twin and earth", "t+e"},
    Replacement{"twin+earth", "t+e"},
    Replacement{"t & e", "t+e"},
    Replacement{"t&e", "t+e"},
    Replacement{"t/e", "t+e"},
    Replacement{"split concentric", "splitcon"},
    Replacement{"split con ", "splitcon "},
    Replacement{"split-con", "splitcon"},
    Replacement{"concentric cne", "cne"},
    Replacement{"steel wire armoured", "swa"},
    Replacement{"steel wire armour", "swa"},
    Replacement{"two core", "2c"},
    Replacement{"three core", "3c"},
    Replacement{"four core", "4c"},
    Replacement{"single core", "1c"},
    Replacement{" cores", "c"},
    Replacement{" core", "c"},
    Replacement{"-core", "c"},
    Replacement{"core", "c"},
};

std::string evened(std::string_view text) {
    std::string result = " " + base::folded(text) + " ";
    for (const Replacement& r : kEvenOut)
        for (std::size_t at = result.find(r.from); at != std::string::npos;
             at = result.find(r.from, at + r.to.size()))
            result.replace(at, r.from.size(), r.to);
    return result;
}

/// Parted by blanks and marks; "/" only where it is not between digits ("7/.036", "xlpe/swa/pvc").
Words words_of(const std::string& text) {
    Words words;
    std::string word;
    const auto finish = [&] {
        if (!word.empty())
            words.push_back(word);
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
        if (is_mark)
            finish();
        else
            word += c == ',' ? '.' : c; // "2,5"
    }
    finish();
    return words;
}

struct Meaning {
    std::string_view word;
    Insulation insulation{};
    Metal metal{};
    Construction construction{};
    int cores = 0;
};

using I = Insulation;
using M = Metal;
using C = Construction;

// Designations of other countries: VDE 0276 (NYY ...), NF C32-321 (R2V), IEC 60502-1.
constexpr std::array kMeanings{
    Meaning{"xlpe", I::xlpe},
    Meaning{"pex", I::xlpe},
    Meaning{"pr", I::xlpe},
    Meaning{"vpe", I::xlpe},
    Meaning{"pvc", I::pvc},
    Meaning{"paper", I::paper},
    Meaning{"pilc", I::paper},
    Meaning{"lead", I::paper},
    Meaning{"pilcswa", I::paper, M::unstated, C::steel_wire_armour},
    Meaning{"cu", I::unstated, M::copper},
    Meaning{"copper", I::unstated, M::copper},
    Meaning{"kupfer", I::unstated, M::copper},
    Meaning{"cuivre", I::unstated, M::copper},
    Meaning{"cobre", I::unstated, M::copper},
    Meaning{"rame", I::unstated, M::copper},
    Meaning{"al", I::unstated, M::aluminium},
    Meaning{"alu", I::unstated, M::aluminium},
    Meaning{"ali", I::unstated, M::aluminium},
    Meaning{"aluminium", I::unstated, M::aluminium},
    Meaning{"aluminum", I::unstated, M::aluminium},
    Meaning{"swa", I::unstated, M::unstated, C::steel_wire_armour},
    Meaning{"armoured", I::unstated, M::unstated, C::steel_wire_armour},
    Meaning{"cne", I::unstated, M::unstated, C::combined_concentric},
    Meaning{"splitcon", I::unstated, M::unstated, C::split_concentric},
    Meaning{"sne", I::unstated, M::unstated, C::split_concentric},
    Meaning{"t+e", I::pvc, M::copper, C::twin_and_earth, 2},
    Meaning{"flex", I::unstated, M::copper, C::flex},
    Meaning{"unarmoured", I::unstated, M::unstated, C::unarmoured},
    Meaning{"nyy", I::pvc, M::copper, C::unarmoured},
    Meaning{"nayy", I::pvc, M::aluminium, C::unarmoured},
    Meaning{"nycwy", I::pvc, M::copper, C::combined_concentric},
    Meaning{"naycwy", I::pvc, M::aluminium, C::combined_concentric},
    Meaning{"u1000r2v", I::xlpe, M::unstated, C::unarmoured},
    Meaning{"r2v", I::xlpe, M::unstated, C::unarmoured},
    Meaning{"rvfv", I::xlpe, M::unstated, C::unstated},
    Meaning{"twin", I::unstated, M::unstated, C::unstated, 2},
    Meaning{"single", I::unstated, M::unstated, C::unstated, 1},
};

constexpr std::array<std::string_view, 12> kNoMeaning{
    "cable", "of", "the", "lv", "u/g", "ug", "mm", "mm2", "type", "and", "street", "lighting"};

// Sizes of imperial cables, square inches (BS 480, BS 2004 before 1969).
constexpr std::array kImperialSizes{0.0015, 0.002, 0.003, 0.0045, 0.007, 0.01, 0.0145, 0.0225,
                                    0.04,   0.06,  0.1,   0.15,   0.2,   0.25, 0.3};
constexpr double kSquareInch = 25.4 * 25.4; // mm2

class Reader {
  public:
    CableWords read(const Words& words) {
        for (const std::string& word : words)
            if (!by_meaning(word) && !by_cores(word) && !by_size(word) && !is_empty(word))
                m_result.left_over.push_back(word);
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
        if (m_result.insulation == Insulation::unstated)
            m_result.insulation = insulation;
        else if (insulation != Insulation::pvc && m_result.insulation != insulation)
            m_result.contradicts = true;
    }
    void size(double csa, SizeAs as) {
        m_result.contradicts =
            m_result.contradicts || (m_result.csa_mm2 && *m_result.csa_mm2 != csa);
        m_result.csa_mm2 = csa;
        m_result.size_as = as;
    }

    static bool is_empty(const std::string& word) {
        return std::find(kNoMeaning.begin(), kNoMeaning.end(), word) != kNoMeaning.end();
    }

    bool by_meaning(const std::string& word) {
        const auto* const found = std::find_if(kMeanings.begin(), kMeanings.end(),
                                               [&](const Meaning& m) { return m.word == word; });
        if (found == kMeanings.end())
            return false;
        if (found->insulation != Insulation::unstated)
            insulate(found->insulation);
        if (found->metal != Metal::unstated)
            state(m_result.metal, found->metal);
        if (found->construction != Construction::unstated)
            state(m_result.construction, found->construction);
        if (found->cores != 0)
            state(m_result.cores, found->cores);
        return true;
    }

    /// "2c", "3x2.5", "3g2.5mm2".
    bool by_cores(const std::string& word) {
        if (word.size() < 2 || std::isdigit(static_cast<unsigned char>(word[0])) == 0)
            return false;
        const int cores = word[0] - '0';
        if (word.substr(1) == "c" && cores > 0) {
            state(m_result.cores, cores);
            return true;
        }
        if ((word[1] != 'x' && word[1] != 'g') || cores == 0)
            return false;
        if (!by_size(word.substr(2)))
            return false;
        if (m_result.size_as == SizeAs::number) // "3x2.5" speaks of mm2, whoever writes it
            m_result.size_as = SizeAs::mm2;
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
            if (has)
                digits.resize(digits.size() - ending.size());
            return has;
        };
        const bool in_mm2 = drop("mm2") || drop("mm");
        const bool in_inch = !in_mm2 && drop("in2");
        const auto number = base::parse_number(digits);
        if (!number || *number <= 0.0)
            return false;
        const bool is_imperial = !in_mm2 && std::find(kImperialSizes.begin(), kImperialSizes.end(),
                                                      *number) != kImperialSizes.end();
        if (in_inch || is_imperial)
            size(*number * kSquareInch, SizeAs::imperial);
        else
            size(*number, in_mm2 ? SizeAs::mm2 : SizeAs::number);
        return true;
    }
};

} // namespace

CableWords read_cable_words(std::string_view text) {
    return Reader().read(words_of(evened(text)));
}

const std::vector<double>& made_sizes_mm2() {
    static const std::vector<double> sizes{0.5, 0.75, 1,  1.5, 2.5, 4,   6,   10,  16,  25,  35,
                                           50,  70,   95, 120, 150, 185, 240, 300, 400, 500, 630};
    return sizes;
}

} // namespace loopwalk::catalogue
